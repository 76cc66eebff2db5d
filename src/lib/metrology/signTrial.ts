import { seenAs, type Axis, type Direction, type Signs, type View } from './axes';

/**
 * The guided trial of an instrument's signs: for each axis a small positive move, and one question, which way the picture went.
 * Two minutes at the console; nothing is assumed about scan rotation or about whose convention the numbers follow.
 */

export type TriedAxis = keyof Signs;
export type TrialAnswer = 'positive' | 'negative' | 'still' | 'unsure';

export interface TrialStep {
	readonly axis: TriedAxis;
	/** Positive move to make: a length in m, or an angle in rad for the tilt. */
	readonly amountM?: number;
	readonly amountRad?: number;
	readonly view: View;
	/** What `positive` and `negative` mean here. */
	readonly directions: readonly [positive: Direction, negative: Direction];
	/** How often this axis has been moved, from 1. */
	readonly attempt: number;
	/** The stage moves: probe and gas needle must be out. */
	readonly probeOut: boolean;
}

export interface Trial {
	readonly signs: Signs;
	/** What to do now; null when every axis has been asked. */
	readonly now: TrialStep | null;
	/** Axes whose sign stays untried, because the picture stood still or the person was not sure after the last attempt. */
	readonly left: readonly TriedAxis[];
	readonly order: readonly TriedAxis[];
	readonly viewHalfM: number;
}

/** A twentieth of the view's width first: seen, but nothing is lost from sight. Twice that at each further attempt. */
const firstShare = 0.1;
const attempts = 3;
/** First tilt of the trial: 1°, then 2°, then 4°. Our choice; it stays far from any holder's limit. */
const firstTiltRad = Math.PI / 180;

export const trialOrder: readonly TriedAxis[] = [
	'stageX',
	'stageY',
	'stageZ',
	'stageZRaises',
	'stageTilt',
	'probeX',
	'probeY',
	'probeZ',
	'beamShiftX',
	'beamShiftY'
];

/**
 * Begins a trial over `order` in a view whose half width is `viewHalfM`. Signs already known stay until they are tried anew.
 * Throws a RangeError for a view that has no width.
 */
export function beginTrial(viewHalfM: number, signs: Signs = {}, order: readonly TriedAxis[] = trialOrder): Trial {
	if (!(viewHalfM > 0 && Number.isFinite(viewHalfM)))
		throw new RangeError(`half the view is ${viewHalfM} m; expected above 0`);
	const [first] = order;
	return { signs, left: [], order, viewHalfM, now: first === undefined ? null : stepFor(first, viewHalfM, 1) };
}

/** The trial after an answer. Does nothing once it has ended. */
export function answerTrial(trial: Trial, answer: TrialAnswer): Trial {
	const { now, order, viewHalfM } = trial;
	if (!now) return trial;
	const seen = answer === 'positive' || answer === 'negative';
	if (!seen && now.attempt < attempts) return { ...trial, now: stepFor(now.axis, viewHalfM, now.attempt + 1) };
	const { [now.axis]: _before, ...others } = trial.signs;
	const signs: Signs = seen ? { ...others, [now.axis]: answer === 'positive' ? 1 : -1 } : others;
	const next = order[order.indexOf(now.axis) + 1];
	return {
		...trial,
		signs,
		left: seen ? trial.left : [...trial.left, now.axis],
		now: next === undefined ? null : stepFor(next, viewHalfM, 1)
	};
}

function stepFor(axis: TriedAxis, viewHalfM: number, attempt: number): TrialStep {
	const growth = 2 ** (attempt - 1);
	const { view, positive } =
		axis === 'stageZRaises' ? ({ view: 'side', positive: 'up' } as const) : seenAs[axis satisfies Axis];
	const amount =
		axis === 'stageTilt' ? { amountRad: firstTiltRad * growth } : { amountM: firstShare * viewHalfM * growth };
	return {
		axis,
		...amount,
		view,
		directions: positive === 'right' ? ['right', 'left'] : ['up', 'down'],
		attempt,
		probeOut: axis.startsWith('stage')
	};
}
