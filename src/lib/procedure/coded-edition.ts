import type { Settings } from './condition';
import { type Coding, type Test, coding } from './coding';
import type { Edition, Outcome, Route, Target, TroubleId } from './edition';

/** Where a route leads, with steps and troubles as numbers. `nowhere`: a step or trouble that the edition does not have. */
export type CodedTarget =
	| { readonly kind: 'step'; readonly step: number }
	| { readonly kind: 'same' }
	| { readonly kind: 'trouble'; readonly trouble: number }
	| { readonly kind: 'end'; readonly end: 'complete' | 'safe' }
	| { readonly kind: 'nowhere'; readonly wanted: string };

export interface CodedRoute {
	readonly when: Test | null;
	readonly to: CodedTarget;
}

export interface CodedSet {
	readonly digit: number;
	readonly value: number;
}

export interface CodedOutcome {
	readonly id: string;
	readonly sets: readonly CodedSet[];
	readonly routes: readonly CodedRoute[];
	/** Null: always offered. */
	readonly offered: Test | null;
	readonly source: Outcome;
}

/** A way to leave a step out: it sets nothing. */
export interface CodedSkip {
	readonly holds: Test;
	readonly to: CodedTarget;
}

export interface CodedStep {
	readonly at: number;
	readonly path: string;
	/** Number of the trouble that the step belongs to; −1 for a step of a stage. */
	readonly trouble: number;
	readonly require: Test;
	readonly costMs: number;
	readonly outcomes: readonly CodedOutcome[];
	readonly skips: readonly CodedSkip[];
	/** The person decides which outcome it is; elsewhere the world does. */
	readonly chosen: boolean;
	/** The safe end may join here: an entry of a stage. Steps of a trouble are never entries, as their way back would have no meaning. */
	readonly entry: boolean;
	/** Digits that this step may change although an invariant over changes forbids it. */
	readonly smallMoves: readonly number[];
}

export interface CodedTrouble {
	readonly at: number;
	readonly id: TroubleId;
	readonly sets: readonly CodedSet[];
	readonly routes: readonly CodedRoute[];
	readonly holds: Test;
	/** By step number: 1 where it can be called. */
	readonly where: Uint8Array;
}

/** An edition with everything that a walk asks again and again made into numbers and tests. */
export interface CodedEdition {
	readonly edition: Edition;
	readonly coding: Coding;
	readonly steps: readonly CodedStep[];
	readonly stepAt: ReadonlyMap<string, number>;
	readonly troubles: readonly CodedTrouble[];
	readonly entries: readonly number[];
	readonly first: number;
	readonly complete: Test;
	readonly safe: Test;
}

/** Codes an edition; number settings are those in `numbers`, else their defaults. */
export function codedEdition(edition: Edition, numbers: Settings = {}): CodedEdition {
	const code = coding(edition, numbers);
	const all = Object.values(edition.steps);
	const stepAt = new Map(all.map((step, at) => [step.path, at]));
	const troubleAt = new Map(edition.troubles.map((trouble, at) => [trouble.id, at]));
	const stageSkips = new Map(
		edition.stages.flatMap((stage) => (stage.optional && stage.steps[0] !== undefined ? [[stage.steps[0], stage.optional] as const] : []))
	);

	function target(to: Target): CodedTarget {
		if ('end' in to) return { kind: 'end', end: to.end };
		if ('back' in to && to.back === 'same') return { kind: 'same' };
		if ('trouble' in to) {
			const trouble = troubleAt.get(to.trouble);
			return trouble === undefined ? { kind: 'nowhere', wanted: `trouble ${to.trouble}` } : { kind: 'trouble', trouble };
		}
		const path = 'step' in to ? to.step : to.back;
		const step = stepAt.get(path);
		return step === undefined ? { kind: 'nowhere', wanted: path } : { kind: 'step', step };
	}
	const routes = (go: readonly Route[]): CodedRoute[] => go.map((route) => ({ when: route.when ? code.test(route.when) : null, to: target(route.to) }));
	const sets = (list: Outcome['set']): CodedSet[] =>
		list.map(({ part, to }) => ({ digit: code.partDigit(part), value: code.value(code.partDigit(part), to) }));

	const steps = all.map((step, at): CodedStep => {
		const inTrouble = step.stage.startsWith('trouble:');
		const left = [step.optional, stageSkips.get(step.path)].filter((skip) => skip !== undefined);
		return {
			at,
			path: step.path,
			trouble: inTrouble ? (troubleAt.get(step.stage.slice('trouble:'.length)) ?? -1) : -1,
			require: code.test(step.require),
			costMs: Math.max(step.plannedMs, step.wait?.forMs ?? 0),
			outcomes: step.outcomes.map((outcome) => ({
				id: outcome.id,
				sets: sets(outcome.set),
				routes: routes(outcome.go),
				offered: outcome.offered ? code.test(outcome.offered) : null,
				source: outcome
			})),
			skips: left.map((skip) => ({ holds: code.test(skip.ifLeftOut), to: target(skip.leadsTo) })),
			chosen: step.kind === 'choose',
			entry: step.entry && !inTrouble,
			smallMoves: step.smallMoves.map((part) => code.partDigit(part))
		};
	});
	return {
		edition,
		coding: code,
		steps,
		stepAt,
		troubles: edition.troubles.map((trouble, at) => ({
			at,
			id: trouble.id,
			sets: sets(trouble.set),
			routes: routes(trouble.go),
			holds: code.test(trouble.while),
			where: Uint8Array.from(all, (step) =>
				(trouble.steps.length === 0 && trouble.stages.length === 0) || trouble.steps.includes(step.path) || trouble.stages.includes(step.stage) ? 1 : 0
			)
		})),
		entries: steps.filter((step) => step.entry).map((step) => step.at),
		first: stepAt.get(edition.first) ?? -1,
		complete: code.test(edition.ends.complete),
		safe: code.test(edition.ends.safe)
	};
}
