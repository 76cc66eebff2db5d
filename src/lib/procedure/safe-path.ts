import { type CodedEdition, type CodedStep, type CodedTarget, codedEdition } from './coded-edition';
import type { Parts, Settings } from './condition';
import type { Edition, StepPath } from './edition';
import { EntryIndex } from './entry-index';
import { type OpenTrouble, framesAt } from './frames';
import { Heap } from './heap';
import { Valuations } from './valuations';

/**
 * The shortest way by planned time from where a run stands to the safe end, without the schema or YAML: the run asks it
 * after every outcome once the visit is being ended, the forecast asks how long it takes.
 *
 * Positions are (step about to be done, parts, open troubles). A step is left by its plain outcome; by any offered
 * answer where the person chooses; or left out where it is optional. Other outcomes are counted on only where nothing
 * else leads out (`byLuck`). Instead of the step that is due, the walk may join at any entry whose requirement holds:
 * this closes all open troubles. No step is planned whose requirement would not hold on entering it.
 */
export interface SafePathFrom {
	/** The step that would be due next, or stands now; null where the flow leads to no step. */
	readonly step: StepPath | null;
	/** What is true once the last outcome is taken. */
	readonly parts: Parts;
	readonly settings: Settings;
	/** Troubles open at `step`, innermost first. */
	readonly frames: OpenTrouble | null;
}

export interface SafePath {
	readonly steps: readonly SafePathStep[];
	readonly plannedMs: number;
	/** It needs an outcome other than the plain one somewhere: it may turn out otherwise. */
	readonly byLuck: boolean;
}

export interface SafePathStep {
	readonly step: StepPath;
	readonly plannedMs: number;
	/** Troubles that are open when the step is entered. */
	readonly frames: OpenTrouble | null;
}

/** Makes any plain way shorter than any that counts on luck. */
const LUCK_MS = 1e12;
/** A plan that calls troubles within troubles deeper than this is no plan. */
const DEPTH = 6;

/** Which step to enter next on the way to the safe end; null where no way is known. */
export function nextOnSafePath(edition: Edition, from: SafePathFrom): StepPath | 'safe end' | null {
	const path = safePath(edition, from);
	return path ? (path.steps[0]?.step ?? 'safe end') : null;
}

/** The whole way with its planned time; no steps where the safe end's condition holds already; null where there is none. */
export function safePath(edition: Edition, from: SafePathFrom): SafePath | null {
	const { code, entries } = coded(edition, from.settings);
	return new Search(code, entries, from).run();
}

interface Position {
	/** Step number; −1: nothing due, only an entry leads on. */
	readonly step: number;
	readonly parts: number;
	readonly frames: OpenTrouble | null;
	readonly before: number;
	cost: number;
	done: boolean;
}

class Search {
	private readonly positions: Position[] = [];
	private readonly byKey = new Map<string, number>();
	private readonly frameIds = new Map<OpenTrouble | null, number>([[null, 0]]);
	private readonly pushed = new Map<string, OpenTrouble>();
	private readonly heap = new Heap();
	private readonly valuations: Valuations;
	private readonly joined = new Set<number>();
	private readonly scratch: Uint8Array;

	constructor(
		private readonly code: CodedEdition,
		private readonly entries: EntryIndex,
		from: SafePathFrom
	) {
		this.scratch = code.coding.encode(from.parts, from.settings);
		this.valuations = new Valuations(code.coding.width);
		const parts = this.valuations.add(this.scratch);
		const step = from.step === null ? -1 : (code.stepAt.get(from.step) ?? -1);
		this.reach(code.steps[step]?.require(this.scratch, 0) ? step : -1, parts, from.frames, -1, 0);
	}

	run(): SafePath | null {
		while (this.heap.size > 0) {
			const { item, cost } = this.heap.pop();
			const here = this.positions[item];
			if (!here || here.done || cost > here.cost) continue;
			here.done = true;
			if (this.code.safe(this.valuations.digits, this.offset(here.parts))) return this.told(item);
			this.join(here);
			const step = this.code.steps[here.step];
			if (step) this.leave(item, here, step);
		}
		return null;
	}

	private offset(parts: number): number {
		return parts * this.code.coding.width;
	}

	/**
	 * The first time that parts are met is the cheapest: every entry open to them is joined once, from there. The step
	 * that was due is not done then, so the way leads on from the one before it.
	 */
	private join(here: Position): void {
		if (this.joined.has(here.parts)) return;
		this.joined.add(here.parts);
		this.entries.each(this.valuations.digits, this.offset(here.parts), (entry) => this.enter(entry, here.parts, null, here.before, here.cost));
	}

	private leave(item: number, here: Position, step: CodedStep): void {
		const at = this.offset(here.parts);
		for (const skip of step.skips) if (skip.holds(this.valuations.digits, at)) this.follow(skip.to, here, here.parts, here.before, here.cost);
		let plain = true;
		for (const outcome of step.outcomes) {
			if (outcome.offered && !outcome.offered(this.valuations.digits, this.offset(here.parts))) continue;
			const cost = here.cost + step.costMs + 1 + (plain || step.chosen ? 0 : LUCK_MS);
			plain = false;
			const parts = this.set(here.parts, outcome.sets);
			const route = outcome.routes.find(({ when }) => !when || when(this.valuations.digits, this.offset(parts)));
			if (route) this.follow(route.to, here, parts, item, cost);
		}
	}

	private set(parts: number, sets: readonly { digit: number; value: number }[]): number {
		if (sets.length === 0) return parts;
		const at = this.offset(parts);
		this.scratch.set(this.valuations.digits.subarray(at, at + this.code.coding.width));
		for (const { digit, value } of sets) this.scratch[digit] = value;
		return this.valuations.add(this.scratch);
	}

	private follow(to: CodedTarget, here: Position, parts: number, item: number, cost: number): void {
		const { edition, steps, troubles } = this.code;
		if (to.kind === 'same') {
			const from = here.frames && this.code.stepAt.get(here.frames.from);
			if (here.frames && typeof from === 'number') return this.enter(from, parts, here.frames.outer, item, cost);
		}
		if (to.kind === 'step') {
			const frames = framesAt(edition, steps[to.step]?.path ?? '', here.frames);
			if (frames !== undefined) return this.enter(to.step, parts, frames, item, cost);
		}
		if (to.kind === 'trouble') {
			const trouble = troubles[to.trouble];
			const frames = trouble && this.push(trouble.id, here);
			if (trouble && frames) {
				const then = this.set(parts, trouble.sets);
				const route = trouble.routes.find(({ when }) => !when || when(this.valuations.digits, this.offset(then)));
				if (route && route.to.kind !== 'trouble') return this.follow(route.to, { ...here, frames }, then, item, cost);
			}
		}
		// an end, or a way that leads nowhere: only an entry can lead on from these parts
		this.reach(-1, parts, null, item, cost);
	}

	private push(trouble: string, here: Position): OpenTrouble | null {
		let depth = 0;
		for (let frame = here.frames; frame; frame = frame.outer) depth++;
		if (depth >= DEPTH) return null;
		const from = this.code.steps[here.step]?.path ?? '';
		const key = `${trouble}|${from}|${this.frameId(here.frames)}`;
		const known = this.pushed.get(key) ?? { trouble, from, outer: here.frames };
		this.pushed.set(key, known);
		return known;
	}

	/** Enters a step if its requirement holds; if not, only an entry can lead on. */
	private enter(step: number, parts: number, frames: OpenTrouble | null, before: number, cost: number): void {
		const open = this.code.steps[step]?.require(this.valuations.digits, this.offset(parts)) ?? false;
		this.reach(open ? step : -1, parts, open ? frames : null, before, cost);
	}

	private reach(step: number, parts: number, frames: OpenTrouble | null, before: number, cost: number): void {
		const key = `${step},${parts},${this.frameId(frames)}`;
		const item = this.byKey.get(key) ?? this.positions.length;
		const known = this.positions[item];
		if (known && known.cost <= cost) return;
		this.byKey.set(key, item);
		this.positions[item] = { step, parts, frames, before, cost, done: false };
		this.heap.push(item, cost);
	}

	private frameId(frames: OpenTrouble | null): number {
		const id = this.frameIds.get(frames) ?? this.frameIds.size;
		this.frameIds.set(frames, id);
		return id;
	}

	private told(end: number): SafePath {
		const steps: SafePathStep[] = [];
		for (let position = this.positions[this.positions[end]?.before ?? -1]; position; position = this.positions[position.before]) {
			const step = this.code.steps[position.step];
			if (step) steps.unshift({ step: step.path, plannedMs: step.costMs, frames: position.frames });
		}
		return {
			steps,
			plannedMs: steps.reduce((sum, step) => sum + step.plannedMs, 0),
			byLuck: (this.positions[end]?.cost ?? 0) >= LUCK_MS
		};
	}
}

interface Kept {
	readonly code: CodedEdition;
	readonly entries: EntryIndex;
}

/** Coding an edition costs a few milliseconds: it is kept as long as the edition is. */
const kept = new WeakMap<Edition, Map<string, Kept>>();

function coded(edition: Edition, settings: Settings): Kept {
	const numbers = edition.settings.filter((setting) => setting.kind === 'number').map((setting) => [setting.id, settings[setting.id] ?? setting.default]);
	const key = JSON.stringify(numbers);
	const known = kept.get(edition) ?? new Map<string, Kept>();
	kept.set(edition, known);
	const found = known.get(key);
	if (found) return found;
	const code = codedEdition(edition, Object.fromEntries(numbers));
	const made = { code, entries: new EntryIndex(code) };
	known.set(key, made);
	return made;
}
