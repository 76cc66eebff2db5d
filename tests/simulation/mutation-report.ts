import type { Edition, Step } from '$lib/procedure/edition';
import { brokenRules } from '$lib/procedure/verify/soundness';
import { unreachableOf } from '$lib/procedure/verify/text-rules';
import { type Harm, harmOf, poolOf } from './harm';
import { type Mutant, mutantsOf } from './mutants';
import { Random } from './random';

/** What became of one mutant. `caught`: the checker refuses it. `missed`: the simulator came to harm and the checker proved all. */
export interface Verdict {
	readonly mutant: Mutant;
	readonly harm: Harm;
	readonly verdict: 'caught' | 'missed' | 'harmless';
	/** Rules of the checker that are broken. */
	readonly rules: readonly string[];
	/** Why a harmless mutant is harmless; null: nobody knows. */
	readonly reason: string | null;
}

/** Walks for each mutant: more where a change is met only by some of them. */
const WALKS: Readonly<Record<Mutant['kind'], number>> = { step: 12, requirement: 12, effect: 40, confirmation: 12, 'return slot': 60, 'way back': 40 };

/**
 * Changes the shipped visit in one place at a time, and asks two that know nothing of each other: the checker, whether it
 * refuses the change, and the naive simulator, whether walks come to a bad end.
 *
 * The checker looks first at the visit with a holder of two slots (starts with slots three and four absent), which is
 * part of the whole; only what it does not refuse there, and what concerns slots three and four, it looks at whole.
 */
export function mutationReport(edition: Edition): Verdict[] {
	const pool = poolOf(edition, 1500);
	const small = twoSlots(edition);
	const absent = new Set(unreachableOf(small).map((at) => `unreachable@${at}`));
	return mutantsOf(edition, new Random(1)).map((mutant) => {
		const harm = harmOf(mutant, edition, pool, WALKS[mutant.kind]);
		let rules = brokenRules(twoSlots(mutant.edition), absent);
		const beyond = absent.has(`unreachable@${mutant.step}`) || /slot-[34]|slot-three|slot-four/.test(mutant.name);
		if (rules.length === 0 && (harm.bad !== null || beyond)) rules = brokenRules(mutant.edition);
		const verdict = rules.length > 0 ? 'caught' : harm.bad !== null ? 'missed' : 'harmless';
		return { mutant, harm, verdict, rules, reason: verdict === 'harmless' ? reasonOf(mutant, harm, edition) : null };
	});
}

const starts: Readonly<Record<string, readonly string[]>> = { 'slot-3': ['absent'], 'slot-4': ['absent'], 'slot-1': ['holds'], 'slot-2': ['holds'], tip: ['none', 'of-slot-1'] };
const twoSlots = (edition: Edition): Edition => ({
	...edition,
	parts: edition.parts.map((part) => ({ ...part, start: starts[part.id] ?? part.start }))
});

/** A harmless change has a reason that can be looked up in the edition or counted on the walks. */
function reasonOf(mutant: Mutant, { passed, unheld }: Harm, edition: Edition): string | null {
	const step = edition.steps[mutant.step ?? ''];
	switch (mutant.kind) {
		case 'step':
			if (!step) return null;
			if (setsOf(step).length === 0) return 'it sets no part: what is lost is a look or an act that no part records';
			return setsOf(step).every(({ part }) => setElsewhere(edition, step, part)) ? 'what it sets, another step states again' : null;
		case 'requirement':
			if (passed === 0) return null;
			if (unheld === 0) return 'it held each time the step was entered: the steps before it see to it';
			return step?.entry ? 'an entry of the safe end: its act does no harm where it is done in vain' : null;
		case 'effect':
			if (!mutant.set || (mutant.step !== null && passed === 0)) return null;
			return setElsewhere(edition, step, mutant.set.part) ? 'another step states it again before anything depends on it' : null;
		case 'confirmation':
			return step && !setsOf(step).some(({ part, to }) => edition.parts.some((one) => one.id === part && one.dangerous.includes(to))) ? 'it sets nothing dangerous' : null;
		case 'way back':
			return passed > 0 ? 'the walk can go on from the other step as well' : null;
		case 'return slot':
			return null;
	}
}

const setsOf = (step: Step) => step.outcomes.flatMap(({ set }) => set);
const setElsewhere = (edition: Edition, but: Step | undefined, part: string): boolean =>
	Object.values(edition.steps).some((step) => step !== but && setsOf(step).some((set) => set.part === part));
