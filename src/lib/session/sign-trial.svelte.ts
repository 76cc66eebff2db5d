import type { Signs } from '$lib/metrology/axes';
import { answerTrial, beginTrial, type Trial, type TrialAnswer, trialOrder, type TriedAxis } from '$lib/metrology/signTrial';
import type { Clock } from '$lib/ports/clock';

/** Which axes a trial goes through: the probe's want the probe in sight, the others want it out. */
export type TrialScope = 'stage' | 'probe' | 'all';

const isProbe = (axis: TriedAxis): boolean => axis.startsWith('probe');
/** Stage and beam shift first, while the probe is out. */
const orders: Readonly<Record<TrialScope, readonly TriedAxis[]>> = {
	stage: trialOrder.filter((axis) => !isProbe(axis)),
	probe: trialOrder.filter(isProbe),
	all: [...trialOrder.filter((axis) => !isProbe(axis)), ...trialOrder.filter(isProbe)]
};

/** A trial of signs as it goes on; nothing is kept before `kept` is called by whoever asked for it. */
export interface SignTrial {
	/** Null before it was begun. */
	readonly trial: Trial | null;
	/** Place of the axis in hand, from 1, and how many there are. */
	readonly nth: number;
	readonly of: number;
	/** The axis before this one was of the other kind: the probe comes in now. */
	readonly probeComesIn: boolean;
	readonly elapsedMs: number;
	/** Ended, by itself or by `stop`. */
	readonly ended: boolean;
	/** Signs seen in this trial alone. */
	readonly seen: Signs;
	/** Axes whose sign came out the other way than it was kept before. */
	readonly turned: readonly TriedAxis[];
	begin(viewHalfM: number, scope: TrialScope): void;
	answer(answer: TrialAnswer): void;
	/** Takes the last answer back. */
	back(): void;
	/** Ends it early: what was seen so far can be kept. */
	stop(): void;
	tick(): void;
}

/** `before` are the signs kept until now. */
export function createSignTrial(clock: Clock, before: Signs): SignTrial {
	let steps = $state.raw<readonly Trial[]>([]);
	let stopped = $state(false);
	let begunMono = 0;
	let nowMono = $state(0);
	const trial = $derived(steps.at(-1) ?? null);
	const seen = $derived(trial ? trial.signs : {});
	const at = $derived(trial?.now ? trial.order.indexOf(trial.now.axis) : -1);

	return {
		get trial() {
			return trial;
		},
		get nth() {
			return at + 1;
		},
		get of() {
			return trial?.order.length ?? 0;
		},
		get probeComesIn() {
			const [axis, last] = [trial?.order[at], trial?.order[at - 1]];
			return axis !== undefined && last !== undefined && isProbe(axis) && !isProbe(last);
		},
		get elapsedMs() {
			return nowMono - begunMono;
		},
		get ended() {
			return trial !== null && (stopped || trial.now === null);
		},
		get seen() {
			return seen;
		},
		get turned() {
			return (Object.keys(seen) as TriedAxis[]).filter((axis) => before[axis] !== undefined && before[axis] !== seen[axis]);
		},
		begin(viewHalfM, scope) {
			begunMono = clock.now().mono;
			nowMono = begunMono;
			stopped = false;
			steps = [beginTrial(viewHalfM, {}, orders[scope])];
		},
		answer(answer) {
			if (trial && !stopped) steps = [...steps, answerTrial(trial, answer)];
		},
		back() {
			if (stopped) stopped = false;
			else if (steps.length > 1) steps = steps.slice(0, -1);
		},
		stop: () => void (stopped = true),
		tick() {
			if (trial?.now && !stopped) nowMono = clock.now().mono;
		}
	};
}
