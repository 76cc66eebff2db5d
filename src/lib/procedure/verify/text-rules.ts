import type { Edition, Outcome } from '../edition';
import { codedEdition } from '../coded-edition';
import { Reach } from './reach';
import { Say } from './say';

export interface TextFinding {
	readonly rule: 'unreachable' | 'unconfirmed';
	readonly sentence: string;
	readonly at: string;
}

/** Steps and troubles that no walk came to. */
export function unreachable(reach: Reach, say: Say): TextFinding[] {
	const reached = new Uint8Array(reach.code.steps.length);
	for (let state = 0; state < reach.space.count; state++) reached[reach.space.step.at(state)] = 1;
	const steps = reach.code.steps.filter((step) => reached[step.at] !== 1 && (step.trouble < 0 || reach.called[step.trouble] === 1));
	const troubles = reach.code.troubles.filter((trouble) => reach.called[trouble.at] !== 1);
	return [
		...steps.map((step) => ({ rule: 'unreachable' as const, sentence: `no walk comes to "${say.title(step.at)}"`, at: step.path })),
		...troubles.map((trouble) => ({ rule: 'unreachable' as const, sentence: `the trouble "${say.trouble(trouble.at)}" can never be called`, at: `trouble:${trouble.id}` }))
	];
}

/** Steps that set a dangerous condition without a hazard that must be confirmed. */
export function unconfirmed(edition: Edition, reach: Reach, say: Say): TextFinding[] {
	const dangerous = (set: Outcome['set'][number]) => edition.parts.some((part) => part.id === set.part && part.dangerous.includes(set.to));
	return reach.code.steps.flatMap((coded) => {
		const step = edition.steps[coded.path];
		const set = step?.outcomes.flatMap((outcome) => outcome.set).find(dangerous);
		if (!step || !set || step.hazard?.confirm) return [];
		return [
			{
				rule: 'unconfirmed' as const,
				sentence: `"${say.title(coded.at)}" sets ${say.condition({ part: set.part, is: [set.to] })}, which is dangerous; expected a hazard that must be confirmed`,
				at: `${coded.path}#hazard`
			}
		];
	});
}

/** Keys of the steps and troubles of an edition that no walk comes to. */
export function unreachableOf(edition: Edition): string[] {
	const reach = new Reach(codedEdition(edition), { states: 3_000_000, starts: 100_000 });
	return unreachable(reach, new Say(reach, new Map())).map(({ at }) => at);
}
