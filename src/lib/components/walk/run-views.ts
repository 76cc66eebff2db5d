import type { HazardView, MoveView, PartView, ReadingView, StepView } from './view';
import { judgeLoop, type LoopJudged } from '$lib/run/adjust';
import type { Told } from '$lib/run/command';
import { readingAsked } from '$lib/run/asked';
import type { Allowed } from '$lib/run/allowed';
import type { Condition } from '$lib/procedure/edition';
import type { RunState } from '$lib/run/state';
import type { Named } from '$lib/session/named';
import type { NumberEntry } from '$lib/session/number-entry';
import { toldText } from '$lib/session/telling';

/** The step as its panel shows it. `inStepMs` is the measured time in it. */
export function stepView(state: RunState, words: Named, allowed: readonly Allowed[], entry: NumberEntry, short: boolean, inStepMs: number): StepView {
	const step = state.edition.steps[state.step];
	const w = words.stepWords(step);
	const text = short ? w.short : w.full;
	const base = { text, look: short ? '' : w.look };
	if (!step) return { ...base, kind: 'do' };
	const answers = allowed.find(({ id }) => id === 'answer')?.answers ?? [];
	const shown = answers.map((outcome, i) => ({ id: outcome.id, answer: words.answer(outcome), ...(i < 9 ? { key: String(i + 1) } : {}) }));
	switch (step.kind) {
		case 'check':
		case 'choose':
			return { ...base, kind: step.kind, answers: shown };
		case 'reading':
			return { ...base, kind: 'reading', readings: readingViews(state, words, entry) };
		case 'wait': {
			const forMs = step.wait?.forMs ?? 0;
			return { ...base, kind: 'wait', forMs, leftMs: forMs - inStepMs };
		}
		case 'adjust': {
			const judged = judgeLoop(state);
			const move = judged && moveView(judged, (told) => toldText(told, words, state.step));
			return {
				...base,
				kind: 'adjust',
				readings: readingViews(state, words, entry),
				round: Math.min(state.rounds.length + 1, step.adjust?.rounds ?? 1),
				rounds: step.adjust?.rounds ?? 1,
				tolerance: { value: String(step.adjust?.tolerance ?? 0), unit: step.readings[0]?.unit ?? '' },
				move
			};
		}
		default:
			return { ...base, kind: 'do' };
	}
}

function moveView({ told, shares }: LoopJudged, text: (told: Told) => string): MoveView {
	const [first, ...others] = told;
	const grows = first && (first.key === 'wrongSign' || first.key === 'errorGrows') ? first : null;
	return { words: (grows ? others : told).map(text), shares, ...(grows ? { grows: text(grows) } : {}) };
}

function readingViews(state: RunState, words: Named, entry: NumberEntry): readonly ReadingView[] {
	const step = state.edition.steps[state.step];
	const asked = readingAsked(state);
	return (step?.readings ?? []).map((spec): ReadingView => {
		const taken = state.readings[spec.id];
		const view = { id: spec.id, name: words.text(spec.name), unit: spec.unit };
		if (taken) return { ...view, text: String(taken.value), state: 'taken' };
		if (asked?.id !== spec.id) return { ...view, text: '', state: 'open' };
		return { ...view, text: entry.text, state: entry.echoed ? 'echoed' : 'asked' };
	});
}

export function hazardView(state: RunState, words: Named): HazardView | null {
	const hazard = state.edition.steps[state.step]?.hazard;
	return hazard ? { signal: hazard.signal, what: words.text(hazard.what), avoid: words.text(hazard.avoid) } : null;
}

function partsOf(condition: Condition): readonly string[] {
	if ('part' in condition) return [condition.part];
	if ('all' in condition) return condition.all.flatMap(partsOf);
	if ('any' in condition) return condition.any.flatMap(partsOf);
	return 'not' in condition ? partsOf(condition.not) : [];
}

/** Parts and their conditions; those the step in hand rests on or changes are marked. Slots that are not there are left out. */
export function partViews(state: RunState, words: Named): readonly PartView[] {
	const step = state.edition.steps[state.step];
	const matter = new Set(step ? [...partsOf(step.require), ...step.outcomes.flatMap(({ set }) => set.map(({ part }) => part))] : []);
	return state.edition.parts
		.filter(({ id }) => state.parts[id] !== 'absent')
		.map((part): PartView => {
			const is = state.parts[part.id] ?? '';
			return {
				id: part.id,
				name: words.part(part.id),
				is: words.condition(part.id, is),
				matters: matter.has(part.id),
				unknown: is === part.unknown,
				dangerous: part.dangerous.includes(is)
			};
		});
}

/** What a confirmed step will set, for the read-back. */
export function setsOf(state: RunState, words: Named): readonly { name: string; is: string }[] {
	const plain = state.edition.steps[state.step]?.outcomes[0];
	return (plain?.set ?? []).map(({ part, to }) => ({ name: words.part(part), is: words.condition(part, to) }));
}

/** Place of the step in its stage: "step 9 of 17". In a trouble: among the trouble's steps. */
export function placeOf(state: RunState): { step: number; of: number } {
	const stageId = state.edition.steps[state.step]?.stage ?? '';
	const steps = state.edition.stages.find(({ id }) => id === stageId)?.steps ?? Object.keys(state.edition.steps).filter((path) => state.edition.steps[path]?.stage === stageId);
	return { step: steps.indexOf(state.step) + 1, of: steps.length };
}
