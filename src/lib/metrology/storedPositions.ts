import { ewma, ewmaLimits, individuals, type Individuals } from './driftCharts';
import type { PartHistory } from './partHistory';
import { unitFactor } from './units';

/** Stored stage positions from visit to visit: how a place drifts, where it is to be expected, and whether a return is questioned. */

export type StageAxis = 'x' | 'y' | 'z';
const axes: readonly StageAxis[] = ['x', 'y', 'z'];

export interface Position {
	readonly xM: number;
	readonly yM: number;
	readonly zM: number;
}

/** Where a place was in one visit. */
export interface Stored extends Position {
	/** Condition of the stage there, e.g. "at-slot-1". */
	readonly place: string;
	readonly run: string;
	readonly at: string;
}

export interface AxisDrift {
	readonly values: readonly number[];
	/** Null below two visits. */
	readonly individuals: Individuals | null;
	/** EWMA after each visit; the last one is where the place is expected next. */
	readonly ewma: readonly number[];
	/** Null below two visits. */
	readonly ewmaLimits: { readonly low: number; readonly high: number } | null;
	/** The newest visit lies outside the limits that the visits before it give; null with fewer than `visitsForLimits` before. */
	readonly signal: boolean | null;
}

export interface Drift {
	readonly place: string;
	readonly visits: readonly Stored[];
	readonly axes: Readonly<Record<StageAxis, AxisDrift>>;
	/** Null without a visit. */
	readonly expected: Position | null;
}

/** Weight of the newest visit, as in the handbook's example (6.3.2.4); limits from this many visits on. Both our choice. */
const weight = 0.3;
const visitsForLimits = 5;

/** Drift of one place over its visits, oldest first. */
export function driftOf(place: string, stored: readonly Stored[]): Drift {
	const visits = stored.filter((each) => each.place === place);
	const of = (axis: StageAxis): AxisDrift => axisDrift(visits.map((each) => each[`${axis}M`]));
	const byAxis = { x: of('x'), y: of('y'), z: of('z') };
	const expected =
		visits.length === 0 ? null : { xM: byAxis.x.ewma.at(-1)!, yM: byAxis.y.ewma.at(-1)!, zM: byAxis.z.ewma.at(-1)! };
	return { place, visits, axes: byAxis, expected };
}

function axisDrift(values: readonly number[]): AxisDrift {
	const start = values[0] ?? 0;
	const chart = individuals(values);
	const before = values.length > visitsForLimits ? individuals(values.slice(0, -1)) : null;
	const newest = values.at(-1);
	return {
		values,
		individuals: chart,
		ewma: ewma(values, start, weight),
		ewmaLimits: chart ? ewmaLimits(chart.mean, chart.meanMovingRange / 1.128, weight) : null,
		signal: before && newest !== undefined ? newest < before.low || newest > before.high : null
	};
}

/** What to think of a return to a place that was found at `found`. */
export interface ReturnJudged {
	/** Distance from the expected place; null on a first visit. */
	readonly offM: number | null;
	readonly byAxisM: Readonly<Record<StageAxis, number>> | null;
	/** True: ask before the probe goes in. A place never visited is questioned too: nothing is known of it. */
	readonly questioned: boolean;
	readonly reason: 'within' | 'moved' | 'first visit';
}

/** Throws a RangeError for a tolerance that is not above 0. */
export function judgeReturn(drift: Drift, found: Position, toleranceM: number): ReturnJudged {
	if (!(toleranceM > 0)) throw new RangeError(`tolerance is ${toleranceM} m; expected a length above 0`);
	const { expected } = drift;
	if (!expected) return { offM: null, byAxisM: null, questioned: true, reason: 'first visit' };
	const byAxisM = { x: found.xM - expected.xM, y: found.yM - expected.yM, z: found.zM - expected.zM };
	const offM = Math.hypot(byAxisM.x, byAxisM.y, byAxisM.z);
	const questioned = !(offM <= toleranceM);
	return { offM, byAxisM, questioned, reason: questioned ? 'moved' : 'within' };
}

/**
 * Stored positions of runs, oldest first: readings called stage-x, stage-y and stage-z that stand together in one step. The place is the
 * condition of the part `stage` at that time; the last complete set of a place in a run counts.
 */
export function storedPositions(histories: readonly PartHistory[]): Stored[] {
	const inOrder = [...histories].sort((a, b) => Date.parse(a.begunAt) - Date.parse(b.begunAt));
	return inOrder.flatMap(({ run, readings }) => {
		const open = new Map<string, Partial<Record<StageAxis, number>>>();
		const found = new Map<string, Stored>();
		for (const { step, reading, value, unit, at, parts } of readings) {
			const axis = axes.find((each) => reading === `stage-${each}`);
			const factor = unitFactor('length', unit);
			const place = parts['stage'];
			if (!axis || factor === undefined || place === undefined) continue;
			const set = { ...open.get(step), [axis]: value * factor };
			open.set(step, set);
			if (set.x === undefined || set.y === undefined || set.z === undefined) continue;
			found.set(place, { place, run, at, xM: set.x, yM: set.y, zM: set.z });
			open.delete(step);
		}
		return [...found.values()];
	});
}
