import type { Condition, Edition, Outcome, Route, Settled, Step, Target, Trouble } from './naive-types';
import { type BadEnd, badAct, badEnding, type World } from './bad-ends';
import type { Random } from './random';

/**
 * A naive simulator, written apart from the checker and from the run: it walks an edition at random, one step at a time,
 * with a stack of troubles, and looks for bad ends. It keeps two things: what the guide believes (by the edition it
 * walks) and what is true of the world (by the edition as it was written, so that an effect that was deleted from the
 * text still happens at the instrument). It knows no summaries, no sets of states, no proofs.
 */
export interface Place {
	readonly step: string;
	readonly belief: World;
	readonly world: World;
	/** Troubles open, innermost last: where each was called. */
	readonly open: readonly { readonly trouble: string; readonly from: string }[];
	readonly ending: boolean;
}

export interface Walked {
	readonly bad: BadEnd | null;
	readonly steps: number;
	readonly end: 'complete' | 'safe' | null;
}

export interface WalkOptions {
	/** Effects as they happen in the world. The same edition where nothing was deleted. */
	readonly world: Edition;
	/** Chance of calling a trouble at a step, and of ending the visit. */
	readonly trouble: number;
	readonly ending: number;
	/** Longer walks than this can't end: they only take plain answers in their last half. */
	readonly most: number;
	/** The trouble that is called first of all, if it can be. */
	readonly force?: string;
	/** An answer that is rather given at a step than any other, so that a change is met. */
	readonly prefer?: { readonly step: string; readonly outcome: string };
	/** Called at every step that is entered. */
	readonly entered?: (place: Place) => void;
}

/** What one move is made with. */
interface Way {
	readonly edition: Edition;
	/** The edition by which effects happen in the world. */
	readonly truth: Edition;
	readonly random: Random;
	/** False in the last half of a long walk, which tries to come to an end. */
	readonly hasty: boolean;
	readonly prefer: WalkOptions['prefer'];
}

export function naiveHolds(condition: Condition, parts: World): boolean {
	if ('part' in condition) return condition.is.includes(parts[condition.part] ?? '');
	if ('all' in condition) return condition.all.every((one) => naiveHolds(one, parts));
	if ('any' in condition) return condition.any.some((one) => naiveHolds(one, parts));
	if ('not' in condition) return !naiveHolds(condition.not, parts);
	throw new Error('the naive simulator knows no settings of kind choice');
}

/** A place to begin: the first step, with start conditions at random that break no invariant over a state. */
export function naiveStart(edition: Edition, random: Random): Place {
	for (let tries = 0; tries < 10_000; tries++) {
		const parts = Object.fromEntries(edition.parts.map((part) => [part.id, random.pick(part.start)]));
		const sound = edition.invariants.every((one) => !('always' in one) || naiveHolds(one.always, parts));
		const step = edition.steps[edition.first];
		if (sound && step && naiveHolds(step.require, parts)) return { step: edition.first, belief: parts, world: parts, open: [], ending: false };
	}
	throw new Error('no start was found');
}

export function naiveWalk(edition: Edition, from: Place, random: Random, options: WalkOptions): Walked {
	let place = from;
	for (let steps = 0; steps < options.most; steps++) {
		const step = edition.steps[place.step];
		if (!step) return { bad: `there is no step ${place.step}`, steps, end: null };
		options.entered?.(place);
		const hasty = steps < options.most / 2;
		const forced = steps === 0 ? edition.troubles.find(({ id }) => id === options.force) : undefined;
		const trouble = forced ?? (hasty && random.chance(options.trouble) && place.open.length < 3 ? callable(edition, place, random) : null);
		if (hasty && !place.ending && random.chance(options.ending)) place = { ...place, ending: true };
		const way: Way = { edition, truth: options.world, random, hasty, prefer: options.prefer };
		const settled = trouble ? call(way, place, trouble) : end(way, place, step);
		if ('bad' in settled) return { bad: settled.bad, steps, end: null };
		if ('end' in settled) return { bad: badEnding(settled.end, settled.world, settled.belief), steps, end: settled.end };
		place = settled;
		if (place.ending && naiveHolds(edition.ends.safe, place.belief)) return { bad: badEnding('safe', place.world, place.belief), steps, end: 'safe' };
	}
	return { bad: 'it goes on for ever', steps: options.most, end: null };
}

function callable(edition: Edition, place: Place, random: Random): Trouble | null {
	const stage = edition.steps[place.step]?.stage ?? '';
	const list = edition.troubles.filter(
		(one) => ((one.steps.length === 0 && one.stages.length === 0) || one.steps.includes(place.step) || one.stages.includes(stage)) && naiveHolds(one.while, place.belief)
	);
	return list.length > 0 ? random.pick(list) : null;
}

function apply(parts: World, set: Outcome['set']): World {
	return set.length === 0 ? parts : { ...parts, ...Object.fromEntries(set.map(({ part, to }) => [part, to])) };
}

function call(way: Way, place: Place, trouble: Trouble): Settled {
	const world = apply(place.world, way.truth.troubles.find(({ id }) => id === trouble.id)?.set ?? trouble.set);
	const inside = { ...place, belief: apply(place.belief, trouble.set), world, open: [...place.open, { trouble: trouble.id, from: place.step }] };
	return go(way, inside, trouble.go);
}

/** Ends a step by one of its answers: any of those offered, the plain one rather when there is no more time. */
function end(way: Way, place: Place, step: Step): Settled {
	const { edition, truth, random, hasty } = way;
	const offered = step.outcomes.filter((one) => !one.offered || naiveHolds(one.offered, place.belief));
	const [plain] = offered;
	if (!plain) return { bad: `nothing can be answered at ${step.path}` };
	if (step.optional && hasty && random.chance(0.2) && naiveHolds(step.optional.ifLeftOut, place.belief)) return go(way, place, [{ to: step.optional.leadsTo }]);
	const stage = edition.stages.find((one) => one.steps[0] === step.path && one.optional);
	if (stage?.optional && hasty && random.chance(0.2) && naiveHolds(stage.optional.ifLeftOut, place.belief)) return go(way, place, [{ to: stage.optional.leadsTo }]);
	const preferred = way.prefer?.step === step.path && random.chance(0.6) ? offered.find(({ id }) => id === way.prefer?.outcome) : undefined;
	const outcome = preferred ?? answer(way, step, offered, plain);
	const real = truth.steps[step.path]?.outcomes.find(({ id }) => id === outcome.id) ?? outcome;
	const world = apply(place.world, real.set);
	const bad = badAct(place.world, world, step, edition);
	if (bad) return { bad };
	return go(way, { ...place, belief: apply(place.belief, outcome.set), world }, outcome.go);
}

function answer({ random, hasty }: Way, step: Step, offered: readonly Outcome[], plain: Outcome): Outcome {
	return step.kind === 'choose' || (hasty && random.chance(0.4)) || random.chance(0.1) ? random.pick(offered) : plain;
}

/** Takes the first route that holds. */
function go(way: Way, place: Place, routes: readonly Route[]): Settled {
	const { edition } = way;
	const route = routes.find((one) => !one.when || naiveHolds(one.when, place.belief));
	if (!route) return { bad: `no way on from ${place.step}` };
	const to: Target = route.to;
	if ('trouble' in to) {
		const trouble = edition.troubles.find(({ id }) => id === to.trouble);
		return trouble ? call(way, place, trouble) : { bad: `there is no trouble ${to.trouble}` };
	}
	if ('end' in to) {
		const { belief, world } = place;
		if (to.end === 'complete' && !place.ending) return naiveHolds(edition.ends.complete, belief) ? { end: 'complete', world, belief } : { bad: 'the guide refuses to call it complete' };
		const inTrouble = edition.steps[place.step]?.stage.startsWith('trouble:') ?? false;
		return join(way, { ...place, open: [], ending: true }, inTrouble ? null : place.step);
	}
	if ('back' in to && to.back === 'same') {
		const frame = place.open.at(-1);
		return enter(way, { ...place, open: place.open.slice(0, -1) }, frame?.from ?? place.step);
	}
	const path = 'back' in to ? to.back : to.step;
	const stage = edition.steps[path]?.stage ?? '';
	const depth = stage.startsWith('trouble:') ? place.open.findLastIndex(({ trouble }) => `trouble:${trouble}` === stage) + 1 : 0;
	if (stage.startsWith('trouble:') && depth === 0) return { bad: `the trouble of ${path} is not open` };
	return enter(way, { ...place, open: place.open.slice(0, depth) }, path);
}

/** Enters the step that is due; in a visit that is being ended, perhaps an entry instead. */
function enter(way: Way, place: Place, path: string): Settled {
	if (place.ending) return join(way, place, path);
	const step = way.edition.steps[path];
	if (!step) return { bad: `there is no step ${path}` };
	return naiveHolds(step.require, place.belief) ? { ...place, step: path } : { bad: `the guide holds: ${path} is due and may not be entered` };
}

const entries = new WeakMap<Edition, readonly Step[]>();
function entriesOf(edition: Edition): readonly Step[] {
	const known = entries.get(edition) ?? Object.values(edition.steps).filter((one) => one.entry && !one.stage.startsWith('trouble:'));
	entries.set(edition, known);
	return known;
}

/** On the way to the safe end: the step that is due if it may be entered, or any entry that may. */
function join({ edition, random, hasty }: Way, place: Place, due: string | null): Settled {
	const { belief, world } = place;
	if (naiveHolds(edition.ends.safe, belief)) return { end: 'safe', world, belief };
	const step = due === null ? undefined : edition.steps[due];
	const onward = step && naiveHolds(step.require, belief) ? step.path : null;
	const open = entriesOf(edition).filter((one) => naiveHolds(one.require, belief));
	if (onward !== null && (open.length === 0 || random.chance(hasty ? 0.5 : 0.9))) return { ...place, step: onward };
	if (open.length === 0) return { bad: `the visit can't be ended from ${place.step}` };
	return { ...place, step: random.pick(open).path, open: [] };
}
