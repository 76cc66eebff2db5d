import type { Edition } from '$lib/procedure/edition';
import type { BadEnd } from './bad-ends';
import type { Mutant } from './mutants';
import { type Place, naiveHolds, naiveStart, naiveWalk } from './naive-walker';
import { Random } from './random';

/** Places met on walks over the sound edition: at each step, and just before it. */
export interface Pool {
	readonly at: ReadonlyMap<string, readonly Place[]>;
	readonly before: ReadonlyMap<string, readonly Place[]>;
}

const KEPT = 24;

/** Walks the sound edition at random and keeps places; throws if it ends badly, because then nothing can be told of mutants. */
export function poolOf(edition: Edition, walks: number): Pool {
	const at = new Map<string, Place[]>();
	const before = new Map<string, Place[]>();
	for (let seed = 1; seed <= walks; seed++) {
		const random = new Random(seed);
		let last: Place | null = null;
		const keep = (list: Map<string, Place[]>, step: string, place: Place) => {
			const kept = list.get(step) ?? [];
			list.set(step, kept);
			if (kept.length < KEPT) kept.push(place);
			else if (random.chance(0.05)) kept[random.below(KEPT)] = place;
		};
		const entered = (place: Place) => {
			keep(at, place.step, place);
			if (last) keep(before, place.step, last);
			last = place;
		};
		const walked = naiveWalk(edition, naiveStart(edition, random), random, { world: edition, trouble: [0, 0.02, 0.1][seed % 3] ?? 0, ending: seed % 2 === 0 ? 0.01 : 0, most: 1200, entered });
		if (walked.bad !== null) throw new Error(`the sound edition ends badly (seed ${seed}): ${walked.bad}`);
	}
	return { at, before };
}

export interface Harm {
	/** The first bad end met; null: none. */
	readonly bad: BadEnd | null;
	readonly seed: number;
	readonly walks: number;
	/** How often the changed place was passed. */
	readonly passed: number;
	/** How often a deleted requirement did not hold when the step was entered all the same. */
	readonly unheld: number;
}

/** Walks a mutant from places around the change and looks for a bad end. Seeded by its name. */
export function harmOf(mutant: Mutant, sound: Edition, pool: Pool, walks: number): Harm {
	const base = [...mutant.name].reduce((hash, char) => (Math.imul(hash, 31) + char.charCodeAt(0)) | 0, 7);
	const rare = mutant.trouble === null && mutant.step?.startsWith('trouble:') && (pool.at.get(mutant.step)?.length ?? 0) < KEPT;
	const called = rare ? (sound.steps[mutant.step ?? '']?.stage.slice('trouble:'.length) ?? null) : mutant.trouble;
	const world = mutant.world === 'as written' ? sound : mutant.edition;
	const prefer = mutant.step !== null && mutant.outcome !== undefined ? { prefer: { step: mutant.step, outcome: mutant.outcome } } : {};
	let passed = 0;
	let unheld = 0;
	for (let seed = base; seed < base + walks; seed++) {
		const random = new Random(seed);
		const from = beginning({ ...mutant, trouble: called }, sound, pool, random);
		const entered = (place: Place) => {
			if (place.step !== mutant.step) return;
			passed++;
			if (mutant.condition && !naiveHolds(mutant.condition, place.belief)) unheld++;
		};
		const options = { world, trouble: random.pick([0, 0.05, 0.2]), ending: random.pick([0, 0, 0.03]), most: 500, entered, ...(called === null ? {} : { force: called }), ...prefer };
		const { bad } = naiveWalk(mutant.edition, from, random, options);
		if (bad !== null) return { bad, seed, walks: seed - base + 1, passed, unheld };
	}
	return { bad: null, seed: base, walks, passed, unheld };
}

function beginning(mutant: Mutant, sound: Edition, pool: Pool, random: Random): Place {
	const places = mutant.trouble === null ? near(mutant, pool, random) : callers(mutant.trouble, sound, pool);
	const left = places.filter((place) => mutant.edition.steps[place.step] && place.open.every(({ from }) => mutant.edition.steps[from]));
	// an effect matters where it is not so already
	const { set } = mutant;
	const apt = set && random.chance(0.7) ? left.filter(({ belief }) => belief[set.part] !== set.to) : [];
	if (apt.length > 0) return random.pick(apt);
	return left.length > 0 ? random.pick(left) : naiveStart(mutant.edition, random);
}

function near({ kind, step }: Mutant, pool: Pool, random: Random): readonly Place[] {
	const before = kind === 'step' || random.chance(0.4);
	return (before ? pool.before : pool.at).get(step ?? '') ?? pool.at.get(step ?? '') ?? [];
}

const callersOf = new WeakMap<Pool, Map<string, readonly Place[]>>();

/** Places at which a trouble can be called. */
function callers(id: string, sound: Edition, pool: Pool): readonly Place[] {
	const known = callersOf.get(pool) ?? new Map<string, readonly Place[]>();
	callersOf.set(pool, known);
	const trouble = sound.troubles.find((one) => one.id === id);
	if (!trouble) return [];
	const anywhere = trouble.steps.length === 0 && trouble.stages.length === 0;
	const open = (step: string) => anywhere || trouble.steps.includes(step) || trouble.stages.includes(sound.steps[step]?.stage ?? '');
	const places = known.get(id) ?? [...pool.at].flatMap(([step, list]) => (open(step) ? list.filter((place) => naiveHolds(trouble.while, place.belief)) : []));
	known.set(id, places);
	return places;
}
