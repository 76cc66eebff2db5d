import type { Question, QuestionKey, Reason, ReasonKey, Told } from '$lib/run/command';
import { lengthText } from '$lib/metrology/quantityText';
import type { TriedAxis } from '$lib/metrology/signTrial';
import * as m from '$lib/paraglide/messages';
import { axisText } from './axis-words';
import { clockText } from './moments';
import { isMoveWords, moveText } from './move-words';
import type { Named } from './named';

type Params = Readonly<Record<string, string | number>>;
type Teller = (p: Params, words: Named, at: string) => string;

const s = (p: Params, name: string): string => String(p[name] ?? '');

const reasons: Readonly<Record<ReasonKey, Teller>> = {
	doublePress: () => m.reason_doublePress(),
	notNow: (p) => m.reason_notNow({ status: statusText(s(p, 'status')) }),
	noPen: () => m.reason_noPen(),
	cleanGloves: () => m.reason_cleanGloves(),
	nothingAsked: () => m.reason_nothingAsked(),
	wantsAnswer: () => m.reason_wantsAnswer(),
	wantsReading: (p, w) => m.reason_wantsReading({ reading: w.reading(s(p, 'step'), s(p, 'reading')) }),
	noSuchAnswer: () => m.reason_noSuchAnswer(),
	notOffered: () => m.reason_notOffered(),
	fromReadings: () => m.reason_fromReadings(),
	noReadingAsked: () => m.reason_noReadingAsked(),
	otherReading: (p, w, at) => m.reason_otherReading({ reading: w.reading(at, s(p, 'asked')) }),
	notANumber: () => m.reason_notANumber(),
	otherUnit: (p) => m.reason_otherUnit({ unit: s(p, 'unit'), expected: s(p, 'expected') }),
	outOfBounds: (p) => m.reason_outOfBounds({ value: s(p, 'value'), min: s(p, 'min'), max: s(p, 'max'), unit: s(p, 'unit') }),
	nothingToConfirm: () => m.reason_nothingToConfirm(),
	nothingToUndo: () => m.reason_nothingToUndo(),
	notOptional: () => m.reason_notOptional(),
	mayNotLeaveOut: () => m.reason_mayNotLeaveOut(),
	noSuchTrouble: () => m.reason_noSuchTrouble(),
	sameTrouble: (p, w) => m.reason_sameTrouble({ trouble: w.trouble(s(p, 'trouble')) }),
	statePartsFirst: () => m.reason_statePartsFirst(),
	invariantBroken: (p, w) => m.reason_invariantBroken({ rule: w.invariant(s(p, 'invariant')) }),
	noSuchCondition: () => m.reason_noSuchCondition(),
	emptyText: () => m.reason_emptyText(),
	notAMoment: (p) => m.reason_notAMoment({ text: s(p, 'text') }),
	endingAlready: () => m.reason_endingAlready(),
	penIsHere: () => m.reason_penIsHere(),
	contradiction: (p) => m.reason_contradiction({ seq: s(p, 'seq') })
};

const questions: Readonly<Record<QuestionKey, Teller>> = {
	confirmHazard: (p, w) => m.question_confirmHazard({ step: w.step(s(p, 'step')) }),
	echo: (p, w, at) => m.question_echo({ reading: w.reading(at, s(p, 'reading')), value: s(p, 'value'), unit: s(p, 'unit') }),
	implausible: (p, w, at) =>
		m.question_implausible({ reading: w.reading(at, s(p, 'reading')), value: s(p, 'value'), unit: s(p, 'unit'), low: s(p, 'low'), high: s(p, 'high') }),
	placeMoved: (p, w, at) =>
		m.question_placeMoved({ reading: w.reading(at, s(p, 'reading')), value: s(p, 'value'), unit: s(p, 'unit'), expected: s(p, 'expected'), off: lengthText(Number(p.offM)), tolerance: lengthText(Number(p.toleranceM)) }),
	waitEarly: (p) => m.question_waitEarly({ left: clockText(Number(p.leftMs)) }),
	waitNotMeasured: (p) => m.question_waitNotMeasured({ planned: clockText(Number(p.plannedMs)) }),
	whichAnswer: () => m.question_whichAnswer(),
	whichReading: (p, w) => m.question_whichReading({ reading: w.reading(s(p, 'step'), s(p, 'reading')) }),
	whichTrouble: () => m.question_whichTrouble(),
	troubleElsewhere: (p, w) => m.question_troubleElsewhere({ trouble: w.trouble(s(p, 'trouble')) }),
	whySkip: () => m.question_whySkip(),
	endVisit: () => m.question_endVisit(),
	abort: () => m.question_abort(),
	stateParts: () => m.question_stateParts(),
	requirementUnmet: () => m.question_requirementUnmet()
};

const tolds: Readonly<Record<string, Teller>> = {
	heldByRequirement: (p, w) => m.told_heldByRequirement({ step: w.step(s(p, 'about')) }),
	heldByInvariant: (p, w) => m.told_heldByInvariant({ rule: w.invariant(s(p, 'about')) }),
	heldByEnd: () => m.told_heldByEnd(),
	heldByRecord: () => m.told_heldByRecord(),
	noSafePath: () => m.told_noSafePath(),
	stopOnlyTheGuide: () => m.told_stopOnlyTheGuide(),
	moveRefused: () => m.told_moveRefused(),
	noSuchMove: (p) => m.told_noSuchMove({ move: s(p, 'move') }),
	readingUnusable: (p, w, at) => m.told_readingUnusable({ reading: w.reading(at, s(p, 'reading')) }),
	wrongSign: (p) => m.told_wrongSign({ axis: axisText(s(p, 'axis') as TriedAxis) }),
	errorGrows: () => m.told_errorGrows()
};

const statusTexts: Readonly<Record<string, () => string>> = {
	idle: m.status_idle,
	running: m.status_running,
	paused: m.status_paused,
	held: m.status_held,
	complete: m.status_complete,
	aborted: m.status_aborted
};
export const statusText = (status: string): string => statusTexts[status]?.() ?? status;

const unmetText = (told: Told, words: Named): string =>
	told.unmet?.length ? ` ${m.words_needed({ what: told.unmet.map(words.conditionText).join(m.words_and()) })}` : '';

export const reasonText = (reason: Reason, words: Named, at: string): string => reasons[reason.key](reason.params, words, at) + unmetText(reason, words);
export const questionText = (question: Question, words: Named, at: string): string =>
	questions[question.key](question.params, words, at) + unmetText(question, words);
/** What the guide says besides; a key without a sentence of its own is a word of the reckoning. */
export function toldText(told: Told, words: Named, at: string): string {
	const teller = tolds[told.key];
	if (teller) return teller(told.params, words, at) + unmetText(told, words);
	const said = { key: told.key, parameters: told.params };
	return isMoveWords(said) ? moveText(said) : told.key;
}
