import type { Outcome, ReadingSpec, Step, StepPath } from '$lib/procedure/edition';
import { type RunState, visitsOf } from '$lib/run/state';
import type { Draws } from '$lib/timing/draws';
import type { InventedVisit } from './invented-visit';

/** What an invented person sees, answers and reads. Draws decide, so that the same seed gives the same visit. */
export class InventedHand {
	/** Offsets of the rounds of the adjust step in hand. */
	private offset = 0;

	constructor(
		private readonly visit: InventedVisit,
		private readonly draws: Draws
	) {}

	/** How long this visit of a step takes. Machines keep their own time: a wait is ended a moment after it is over. */
	lasts(step: Step): number {
		const { pace, spread } = this.visit;
		if (step.wait) return step.wait.forMs + 1000 * (2 + 15 * this.draws.uniform());
		return step.plannedMs * pace * Math.exp(spread * this.draws.normal());
	}

	happens(chance: number): boolean {
		return this.draws.uniform() < chance;
	}

	between(low: number, high: number): number {
		return low + (high - low) * this.draws.uniform();
	}

	pick<T>(list: readonly T[]): T {
		return list[Math.floor(this.draws.uniform() * list.length)] as T;
	}

	/** The plain answer, the true one where the scenario says what is so, now and then one by which a step is done again. */
	answers(state: RunState, step: Step, offered: readonly Outcome[]): Outcome {
		const plain = offered[0] as Outcome;
		const troubled = step.stage.startsWith('trouble:');
		// a trouble, or the end of a visit, that comes back to the same question leaves it by another door
		if ((troubled || state.ending) && visitsOf(state, step.path) > 1) return this.pick(offered);
		const first = step.stage === state.edition.stages[0]?.id && visitsOf(state, step.path) <= 1;
		const so = first ? offered.find((outcome) => this.isSo(outcome)) : undefined;
		if (so) return so;
		const again = offered.filter((outcome) => goesBack(state, step.path, outcome));
		return !troubled && again.length > 0 && this.happens(this.visit.slips) ? this.pick(again) : plain;
	}

	/** Says of parts what the scenario says of them. */
	private isSo({ set }: Outcome): boolean {
		const told = set.filter(({ part }) => this.visit.parts[part] !== undefined);
		return told.length > 0 && told.every(({ part, to }) => this.visit.parts[part] === to);
	}

	/** A value that the step takes; in an adjust loop each round leaves a small share of the offset before. */
	reads(spec: ReadingSpec, step: Step, { rounds, parts, edition }: RunState): number {
		const [low, high] = spec.plausible;
		const axis = ['stage-x', 'stage-y', 'stage-z'].indexOf(spec.id);
		if (axis >= 0) {
			// every place has its own spot, found again within a few micrometres
			const place = edition.parts.find(({ id }) => id === 'stage')?.conditions.findIndex(({ id }) => id === parts['stage']) ?? 0;
			return rounded([4 * place - 24, 3.2 + 0.1 * place, 5.1][axis]! + 0.004 * this.draws.normal(), spec);
		}
		// about one in twenty lies beyond its tolerance, and the step before is done again
		if (spec.judged) return rounded(spec.judged.target + 0.5 * spec.judged.tolerance * this.draws.normal(), spec);
		if (!step.adjust) return rounded(low + (high - low) * (0.35 + 0.3 * this.draws.uniform()), spec);
		if (spec.id === step.readings[0]?.id)
			this.offset = rounds.length === 0 ? 0.16 * (high - low) * this.draws.normal() : this.offset * 0.08 * this.draws.normal();
		const offset = Math.max(-0.45 * (high - low), Math.min(0.45 * (high - low), this.offset));
		if (low < 0) return rounded(offset, spec);
		// two gaps share one sum: what one side lacks the other has
		const side = spec.id === step.readings[0]?.id ? 1 : -1;
		return rounded((low + high) / 2 + side * offset, spec);
	}
}

/** As the display would show it, within what is possible at all. */
const rounded = (value: number, { decimals, min, max }: ReadingSpec): number => Number(Math.max(min, Math.min(max, value)).toFixed(decimals));

/** Leads to a step of the same stage that was walked before. */
function goesBack(state: RunState, from: StepPath, { go }: Outcome): boolean {
	const steps = state.edition.stages.find(({ steps }) => steps.includes(from))?.steps ?? [];
	const target = go[0]?.to;
	return target !== undefined && 'step' in target && steps.includes(target.step) && steps.indexOf(target.step) < steps.indexOf(from);
}
