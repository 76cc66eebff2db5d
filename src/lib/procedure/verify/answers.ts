import type { CodedEdition } from '../coded-edition';
import type { Valuations } from '../valuations';

/**
 * Answers of one check exclude each other: whoever gives one has not seen what another says. So an answer must not leave
 * the parts just as another answer, offered at the same moment, would have said they are. An answer that says the same
 * in so many words is another matter (a good tip, a worn tip: both fill the slot); so is one that calls a trouble, which
 * finds out what is true.
 */
export class Answers {
	/** By step and outcome: the other outcomes whose effects this one does not set in full. */
	private readonly others: readonly (readonly (readonly number[])[])[];

	constructor(
		private readonly code: CodedEdition,
		private readonly valuations: Valuations
	) {
		this.others = code.steps.map((step) => {
			if (code.edition.steps[step.path]?.kind !== 'check') return step.outcomes.map(() => []);
			return step.outcomes.map((outcome, at) =>
				(outcome.routes.some(({ to }) => to.kind === 'trouble') ? [] : step.outcomes).flatMap((other, n) => {
					const said = other.sets.every(({ digit, value }) => outcome.sets.some((set) => set.digit === digit && set.value === value));
					return n === at || other.sets.length === 0 || said ? [] : [n];
				})
			);
		});
	}

	/** The number of the answer whose words this one leaves true although it was not given; −1: none. */
	contradicted(step: number, outcome: number, before: number, after: number): number {
		const { digits, width } = this.valuations;
		for (const other of this.others[step]?.[outcome] ?? []) {
			const said = this.code.steps[step]?.outcomes[other];
			if (!said || (said.offered && !said.offered(digits, before * width))) continue;
			if (said.sets.every(({ digit, value }) => digits[after * width + digit] === value)) return other;
		}
		return -1;
	}
}
