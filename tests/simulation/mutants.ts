import type { Condition, Edition, Outcome, Route, Step, Target } from '$lib/procedure/edition';
import type { Random } from './random';

/** One change to an edition, and where walks have to begin to meet it. */
export interface Mutant {
	readonly kind: 'step' | 'requirement' | 'effect' | 'confirmation' | 'return slot' | 'way back';
	readonly name: string;
	readonly edition: Edition;
	/** What happens in the world: the unchanged edition where an effect was only forgotten by the text. */
	readonly world: 'as written' | 'as changed';
	/** The step that was changed, or the trouble. */
	readonly step: string | null;
	readonly trouble: string | null;
	/** The answer that was changed. */
	readonly outcome?: string;
	/** The requirement that was deleted. */
	readonly condition?: Condition;
	/** The effect that was deleted. */
	readonly set?: Outcome['set'][number];
}

const conjuncts = (condition: Condition): Condition[] => ('all' in condition ? condition.all.flatMap(conjuncts) : [condition]);
const without = <T>(list: readonly T[], at: number): T[] => list.filter((_, i) => i !== at);
const withStep = (edition: Edition, step: Step): Edition => ({ ...edition, steps: { ...edition.steps, [step.path]: step } });

/** Every change of the six kinds, one at a time. */
export function mutantsOf(edition: Edition, random: Random): Mutant[] {
	const steps = Object.values(edition.steps);
	return [
		...steps.map((step) => withoutStep(edition, step)),
		...steps.flatMap((step) => withoutRequirements(edition, step)),
		...steps.flatMap((step) => withoutEffects(edition, step)),
		...withoutTroubleEffects(edition),
		...steps.filter(({ hazard }) => hazard?.confirm).map((step) => unconfirmed(edition, step)),
		...steps.flatMap((step) => swapped(edition, step)),
		...steps.flatMap((step) => redirected(edition, step, random))
	];
}

/** Every way to the step leads on as its plain answer would, without its effect. */
function withoutStep(edition: Edition, gone: Step): Mutant {
	const onward = gone.outcomes[0]?.go ?? [];
	const leads = (to: Target) => ('step' in to && to.step === gone.path) || ('back' in to && to.back === gone.path);
	const around = (go: readonly Route[]): Route[] =>
		go.flatMap((route) => (leads(route.to) ? onward.map((next) => ({ ...next, ...both(route.when, next.when) })) : [route]));
	const steps = Object.values(edition.steps)
		.filter((step) => step !== gone)
		.map((step) => ({ ...step, outcomes: step.outcomes.map((outcome) => ({ ...outcome, go: around(outcome.go) })) }));
	const plain = onward.at(-1)?.to;
	return {
		kind: 'step',
		name: `without ${gone.path}`,
		world: 'as changed',
		step: gone.path,
		trouble: null,
		edition: {
			...edition,
			steps: Object.fromEntries(steps.map((step) => [step.path, step])),
			stages: edition.stages.map((stage) => ({ ...stage, steps: stage.steps.filter((path) => path !== gone.path) })),
			troubles: edition.troubles.map((trouble) => ({ ...trouble, go: around(trouble.go), steps: trouble.steps.filter((path) => path !== gone.path) })),
			first: edition.first === gone.path && plain && 'step' in plain ? plain.step : edition.first
		}
	};
}

function both(a: Condition | undefined, b: Condition | undefined): { when?: Condition } {
	if (a && b) return { when: { all: [a, b] } };
	return a || b ? { when: a ?? b } : {};
}

function withoutRequirements(edition: Edition, step: Step): Mutant[] {
	const all = conjuncts(step.require);
	return all.map((condition, at) => ({
		kind: 'requirement' as const,
		name: `${step.path} no longer requires ${JSON.stringify(condition)}`,
		edition: withStep(edition, { ...step, require: { all: without(all, at) } }),
		world: 'as written' as const,
		step: step.path,
		trouble: null,
		condition
	}));
}

function withOutcome(edition: Edition, step: Step, at: number, outcome: Outcome): Edition {
	return withStep(edition, { ...step, outcomes: step.outcomes.map((one, i) => (i === at ? outcome : one)) });
}

function withoutEffects(edition: Edition, step: Step): Mutant[] {
	return step.outcomes.flatMap((outcome, at) =>
		outcome.set.map((set, i) => ({
			kind: 'effect' as const,
			name: `${step.path}, ${outcome.id} no longer sets ${set.part} ${set.to}`,
			edition: withOutcome(edition, step, at, { ...outcome, set: without(outcome.set, i) }),
			world: 'as written' as const,
			step: step.path,
			trouble: null,
			outcome: outcome.id,
			set
		}))
	);
}

function withoutTroubleEffects(edition: Edition): Mutant[] {
	return edition.troubles.flatMap((trouble) =>
		trouble.set.map((set, i) => ({
			kind: 'effect' as const,
			name: `trouble ${trouble.id} no longer sets ${set.part} ${set.to}`,
			edition: { ...edition, troubles: edition.troubles.map((one) => (one === trouble ? { ...one, set: without(one.set, i) } : one)) },
			world: 'as written' as const,
			step: null,
			trouble: trouble.id,
			set
		}))
	);
}

function unconfirmed(edition: Edition, step: Step): Mutant {
	const edited = step.hazard ? withStep(edition, { ...step, hazard: { ...step.hazard, confirm: false } }) : edition;
	return { kind: 'confirmation', name: `${step.path} is no longer confirmed`, edition: edited, world: 'as changed', step: step.path, trouble: null };
}

/** The tip goes into the next slot instead of its own. */
function swapped(edition: Edition, step: Step): Mutant[] {
	return step.outcomes.flatMap((outcome, at) => {
		const slot = outcome.set.find(({ part, to }) => /^slot-\d$/.test(part) && to === 'holds')?.part;
		const leaves = outcome.set.some(({ part, to }) => part === 'tip' && to === 'none');
		if (slot === undefined || !leaves) return [];
		const other = `slot-${(Number(slot.at(-1)) % 4) + 1}`;
		const set = outcome.set.map((one) => (one.part === slot ? { ...one, part: other } : one));
		return [{ kind: 'return slot' as const, name: `${step.path}, ${outcome.id} puts the tip into ${other}`, edition: withOutcome(edition, step, at, { ...outcome, set }), world: 'as changed' as const, step: step.path, trouble: null, outcome: outcome.id }];
	});
}

/** A trouble's way back leads to another step of a stage, chosen at random. */
function redirected(edition: Edition, step: Step, random: Random): Mutant[] {
	if (!step.stage.startsWith('trouble:')) return [];
	const stages = edition.stages.flatMap(({ steps }) => steps);
	return step.outcomes.flatMap((outcome, at) =>
		outcome.go.flatMap((route, i) => {
			if (!('back' in route.to) && !('end' in route.to)) return [];
			const old = 'back' in route.to ? route.to.back : 'safe end';
			const to = random.pick(stages.filter((path) => path !== old));
			const go = outcome.go.map((one, n) => (n === i ? { ...one, to: { back: to } } : one));
			return [{ kind: 'way back' as const, name: `${step.path}, ${outcome.id} leads back to ${to} instead of ${old}`, edition: withOutcome(edition, step, at, { ...outcome, go }), world: 'as changed' as const, step: step.path, trouble: null, outcome: outcome.id }];
		})
	);
}
