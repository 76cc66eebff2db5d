import { readCondition, readEffects } from './condition-text';
import { always, type AdjustSpec, type Condition, type DrawingUse, type Hazard, type Localised, type Outcome, type PartId, type ReadingSpec, type Step, type StepWords } from './edition';
import type { Flow } from './flow';
import { below, type Report, type Where } from './report';
import type { AnswerText, LeftOutText, TextIn } from './schema';
import type { RawStep } from './unfold';
import type { Vocabulary } from './vocabulary';
import { durationMs, idFrom, sameWords, signalWords } from './words';

/** What the steps of one procedure are compiled with. */
export interface StepContext {
	readonly languages: readonly string[];
	readonly vocabulary: Vocabulary;
	readonly flow: Flow;
	readonly report: Report;
	/** Planned time of each step, by path. */
	readonly plannedMs: ReadonlyMap<string, number>;
}

/** A text in the languages of the procedure: a plain one is the first language's. */
export function localised(text: TextIn, languages: readonly string[], where: Where, report: Report): Localised {
	const first = languages[0] as string;
	if (typeof text === 'string') return { [first]: text };
	for (const tag of Object.keys(text)) if (!languages.includes(tag)) report.add(below(where, tag), `"${tag}" is not among the languages (${languages.join(', ')}); expected one of them`, true);
	if (!Object.hasOwn(text, first)) report.add(where, `the text in "${first}" is missing; expected the first language always`);
	return text;
}

export function compileStep(raw: RawStep, container: string, context: StepContext): Step {
	const { text, kind, where, path } = raw;
	const { report, vocabulary } = context;
	if (kind === 'wait' && text.for === undefined) report.add(where, 'the wait says no time; expected e.g. "for: 2 min"');
	refuse('for', kind === 'wait', 'a wait step');
	refuse('readings', kind === 'reading' || kind === 'adjust', 'a reading or adjust step');
	for (const key of ['move', 'from', 'rounds'] as const) refuse(key, kind === 'adjust', 'an adjust step');
	const readings = compileReadings(raw, context);
	const adjust = kind === 'adjust' ? compileAdjust(raw, readings, report) : undefined;
	const optional = text.optional === undefined ? undefined : compileLeftOut(text.optional, raw, context);
	const hazard = text.hazard === undefined ? undefined : compileHazard(text.hazard, below(where, 'hazard'), context);
	const drawing = text.drawing === undefined ? undefined : compileDrawing(text.drawing);
	return {
		path,
		kind,
		stage: container,
		words: compileWords(raw, context),
		plannedMs: context.plannedMs.get(path) ?? 0,
		require: text.needs === undefined ? always : readCondition(text.needs, vocabulary, below(where, 'needs'), report),
		outcomes: compileOutcomes(raw, readings, context),
		readings,
		...(hazard ? { hazard } : {}),
		...(kind === 'wait' && text.for !== undefined ? { wait: { forMs: durationMs(text.for) } } : {}),
		...(adjust ? { adjust } : {}),
		...(optional ? { optional } : {}),
		final: text.final ?? false,
		smallMoves: text['small move'] === undefined ? [] : smallMoves(text['small move'], below(where, 'small move'), context),
		hands: text.hands ?? 'any',
		entry: text.entry ?? false,
		...(drawing ? { drawing } : {})
	};

	function refuse(key: keyof typeof text, allowed: boolean, expected: string): void {
		if (!allowed && text[key] !== undefined) report.add(below(where, key), `"${key}" stands in a ${kind} step; expected it only in ${expected}`, true);
	}
}

function compileWords({ text, kind, where }: RawStep, { languages, report }: StepContext): Localised<StepWords> {
	const full = text[kind] as string;
	const short = text.short ?? full.replace(/\.$/, '');
	const words: Record<string, StepWords> = { [languages[0] as string]: { full, short, spoken: text.say ?? full, look: text.look ?? '' } };
	for (const [tag, other] of Object.entries(text.words ?? {})) {
		const here = below(where, 'words', tag);
		if (!languages.includes(tag)) report.add(here, `"${tag}" is not among the languages (${languages.join(', ')}); expected one of them`, true);
		if (other.full === undefined) report.add(here, '"full" is missing; expected the whole wording in this language');
		else words[tag] = { full: other.full, short: other.short ?? other.full.replace(/\.$/, ''), spoken: other.say ?? other.full, look: other.look ?? '' };
	}
	return words;
}

function compileOutcomes(raw: RawStep, readings: readonly ReadingSpec[], context: StepContext): Outcome[] {
	const { text, kind, where } = raw;
	const { flow, languages, vocabulary, report } = context;
	const first = languages[0] as string;
	const common = text.sets === undefined ? [] : readEffects(text.sets, vocabulary, below(where, 'sets'), report);
	const judged = kind === 'adjust' ? (['within', 'beyond'] as const) : readings.some((r) => r.judged) ? (['in range', 'out of range'] as const) : null;
	if (text.answers === undefined) {
		if (judged) report.add(where, `the step says no way on; expected "answers" with "${judged[0]}" and "${judged[1]}"`);
		if (kind === 'check' || kind === 'choose') report.add(where, `the ${kind} step has no answers; expected "answers" with what can be seen or chosen`);
		const go = flow.routes(text.then, raw, below(where, 'then'));
		if (kind === 'reading') return [{ id: 'read', answer: { [first]: 'Read' }, set: common, go, when: 'in range' }];
		return [{ id: 'done', answer: { [first]: 'Done' }, set: common, go }];
	}
	const entries = Object.entries(text.answers);
	if (entries.length === 0) report.add(below(where, 'answers'), 'no answer stands here; expected at least one');
	if (judged) for (const key of judged) if (!Object.hasOwn(text.answers, key)) report.add(below(where, 'answers'), `"${key}" is missing; expected "${judged[0]}" and "${judged[1]}"`);
	const ids = new Set<string>();
	return entries.map(([said, answer]) => {
		const here = below(where, 'answers', said);
		if (judged && !(judged as readonly string[]).includes(said)) report.add(here, `"${said}" cannot follow from readings; expected "${judged[0]}" or "${judged[1]}"`, true);
		const full: Exclude<AnswerText, string> = typeof answer === 'string' ? { then: answer } : answer;
		const id = full.id ?? idFrom(said);
		if (ids.has(id)) report.add(here, `the answer "${said}" has the id "${id}" of an earlier one; expected an "id" of its own`, true);
		ids.add(id);
		const own = full.sets === undefined ? [] : readEffects(full.sets, vocabulary, below(here, 'sets'), report);
		const thenAt = typeof answer === 'string' ? here : full.then === undefined && text.then !== undefined ? below(where, 'then') : below(here, 'then');
		return {
			id,
			answer: full.words === undefined ? { [first]: said } : localised(full.words, languages, below(here, 'words'), report),
			set: [...common.filter((c) => !own.some((o) => o.part === c.part)), ...own],
			go: flow.routes(full.then ?? text.then, raw, thenAt),
			...(full['offered if'] === undefined ? {} : { offered: readCondition(full['offered if'], vocabulary, below(here, 'offered if'), report) }),
			...(judged ? { when: said as (typeof judged)[number] } : kind === 'reading' ? { when: 'in range' as const } : {})
		};
	});
}

function compileReadings({ text, kind, where }: RawStep, { languages, report }: StepContext): ReadingSpec[] {
	const entries = Object.entries(text.readings ?? {});
	if ((kind === 'reading' || kind === 'adjust') && entries.length === 0) report.add(where, `the ${kind} step asks for no number; expected "readings" with at least one`);
	return entries.map(([id, r]) => {
		const here = below(where, 'readings', id);
		const [low, high] = r.plausible;
		if (!(r.min < r.max)) report.add(below(here, 'max'), `the greatest value ${r.max} is not above the least ${r.min}; expected min below max`);
		if (low > high || low < r.min || high > r.max) report.add(below(here, 'plausible'), `the plausible range ${low} to ${high} does not lie within ${r.min} to ${r.max}; expected it inside`);
		if ((r.target === undefined) !== (r.tolerance === undefined)) report.add(here, 'target and tolerance belong together; expected both or neither');
		if (r.target !== undefined && (r.target < r.min || r.target > r.max)) report.add(below(here, 'target'), `the target ${r.target} lies outside ${r.min} to ${r.max}; expected it inside`);
		const judged = r.target !== undefined && r.tolerance !== undefined ? { judged: { target: r.target, tolerance: r.tolerance } } : {};
		return { id, name: localised(r.name, languages, below(here, 'name'), report), unit: r.unit, min: r.min, max: r.max, plausible: [low, high] as const, decimals: r.decimals, ...judged };
	});
}

function compileAdjust({ text, where }: RawStep, readings: readonly ReadingSpec[], report: Report): AdjustSpec {
	for (const key of ['move', 'from', 'tolerance', 'rounds'] as const) if (text[key] === undefined) report.add(where, `"${key}" is missing; an adjust step needs move, from, tolerance and rounds`);
	for (const [input, reading] of Object.entries(text.from ?? {}))
		if (!readings.some((r) => r.id === reading)) report.add(below(where, 'from', input), `no reading of this step is called "${reading}"; expected ${readings.map((r) => r.id).join(' or ') || 'one under "readings"'}`);
	return { move: text.move ?? '', from: text.from ?? {}, tolerance: text.tolerance ?? 1, rounds: text.rounds ?? 1 };
}

/** What must hold when a step is left out, and where it leads. */
export function compileLeftOut(leftOut: LeftOutText, from: RawStep, { flow, vocabulary, report }: StepContext, where = below(from.where, 'optional')): Step['optional'] {
	const { 'if left out': text, go } = leftOut === true ? {} : leftOut;
	const ifLeftOut: Condition = text === undefined ? always : readCondition(text, vocabulary, below(where, 'if left out'), report);
	const leadsTo = flow.single(go, from, below(where, 'go'));
	return leadsTo === null ? undefined : { ifLeftOut, leadsTo };
}

function compileHazard(text: NonNullable<RawStep['text']['hazard']>, where: Where, { languages, report }: StepContext): Hazard | undefined {
	const said = signalWords.filter((word) => text[word] !== undefined);
	if (said.length !== 1) {
		report.add(where, `the hazard has ${said.length} signal words; expected exactly one of ${signalWords.join(', ')}, with what can happen behind it`);
		return undefined;
	}
	const signal = said[0] as (typeof signalWords)[number];
	return {
		signal,
		what: localised(text[signal] as TextIn, languages, below(where, signal), report),
		avoid: localised(text.avoid, languages, below(where, 'avoid'), report),
		confirm: text.confirm
	};
}

function smallMoves(text: string, where: Where, { vocabulary, report }: StepContext): PartId[] {
	return text.split(',').flatMap((name) => {
		const part = vocabulary.things.find((t) => t.kind === 'part' && t.called.includes(sameWords(name)));
		if (!part) report.addUnknown(where, name, `"${name.trim()}" is not a part; expected one of ${vocabulary.things.map((t) => t.name).join(', ')}`);
		return part ? [part.id] : [];
	});
}

/** "two views, feature taper, offset 0": the drawing's name, then parameters, the last word of each being its value. */
function compileDrawing(text: NonNullable<RawStep['text']['drawing']>): DrawingUse {
	if (typeof text !== 'string') return text;
	const [name = '', ...pairs] = text.split(',').map((piece) => piece.trim());
	const parameters: Record<string, string | number> = {};
	for (const pair of pairs) {
		const cut = pair.lastIndexOf(' ');
		const value = pair.slice(cut + 1);
		parameters[cut === -1 ? pair : pair.slice(0, cut)] = value !== '' && Number.isFinite(Number(value)) ? Number(value) : value;
	}
	return { name, with: parameters };
}
