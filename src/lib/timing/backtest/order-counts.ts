/** How often the steps of one procedure follow one another in training runs. A run can be taken out while it is itself being predicted. */
import type { RecordedRun } from './recorded-run';

export interface OrderedRun {
	readonly operator: string;
	/** Place of each step key in the run. */
	readonly places: ReadonlyMap<string, number>;
	readonly keys: readonly string[];
}

const orderedRun = (run: RecordedRun): OrderedRun => ({
	operator: run.operator,
	keys: run.steps.map((step) => step.key),
	places: new Map(run.steps.map((step, place) => [step.key, place]))
});

export class OrderCounts {
	readonly keys: readonly string[];
	private readonly indices: ReadonlyMap<string, number>;
	private readonly occurrences: Float64Array;
	private readonly follows: Float64Array;
	private readonly ordered: Map<RecordedRun, OrderedRun>;
	private hidden: RecordedRun | undefined;
	private steps = 0;

	constructor(train: readonly RecordedRun[]) {
		this.keys = [...new Set(train.flatMap((run) => run.steps.map((step) => step.key)))];
		this.indices = new Map(this.keys.map((key, index) => [key, index]));
		this.occurrences = new Float64Array(this.keys.length);
		this.follows = new Float64Array(this.keys.length ** 2);
		this.ordered = new Map(train.map((run) => [run, orderedRun(run)]));
		for (const run of this.ordered.values()) this.count(run, 1);
	}

	without<T>(run: RecordedRun, ask: () => T): T {
		const known = this.ordered.get(run);
		if (!known) return ask();
		this.count(known, -1);
		this.hidden = run;
		try {
			return ask();
		} finally {
			this.hidden = undefined;
			this.count(known, 1);
		}
	}

	/** Runs counted now. */
	runs(): OrderedRun[] {
		return [...this.ordered].flatMap(([run, ordered]) => (run === this.hidden ? [] : [ordered]));
	}

	get runCount(): number {
		return this.ordered.size - (this.hidden ? 1 : 0);
	}

	/** Mean number of steps a run. */
	get meanSteps(): number {
		return this.runCount > 0 ? this.steps / this.runCount : 0;
	}

	index(key: string): number | undefined {
		return this.indices.get(key);
	}

	/** Runs in which the step occurs. */
	occurrencesOf(step: number): number {
		return this.occurrences[step] as number;
	}

	/** Runs in which both occur and `later` comes after `earlier`. */
	followed(earlier: number, later: number): number {
		return this.follows[earlier * this.keys.length + later] as number;
	}

	private count(run: OrderedRun, sign: 1 | -1): void {
		this.steps += sign * run.keys.length;
		const indices = run.keys.map((key) => this.indices.get(key) as number);
		indices.forEach((earlier, place) => {
			this.occurrences[earlier] = (this.occurrences[earlier] as number) + sign;
			for (const later of indices.slice(place + 1)) {
				const cell = earlier * this.keys.length + later;
				this.follows[cell] = (this.follows[cell] as number) + sign;
			}
		});
	}
}
