import { beamTimeS, polygonAreaM2 } from './cutting';
import type { RateInUse } from './calibration';
import type { Point } from './reckoning';

/** A lift-out's cuts and deposits as a plan: the beam time that a stage's planned duration is made of. */

export type Shape =
	| { readonly kind: 'box' | 'wedge'; readonly lengthM: number; readonly widthM: number; readonly depthM: number }
	| { readonly kind: 'polygon'; readonly corners: readonly Point[]; readonly depthM: number };

export interface PlannedCut {
	readonly name: string;
	/** Stage of the procedure whose duration it counts for. */
	readonly stage: string;
	readonly shape: Shape;
	readonly currentA: number;
	/** Key into the rates in use: cuts of one rate share its error. */
	readonly rate: string;
	/** Learned redeposition factor; 1 where none has been. */
	readonly redeposition: number;
	/** How often it is made, e.g. 2 trenches. */
	readonly times: number;
}

export interface PlannedTime {
	/** Beam time in s; no move, image or focus is in it. */
	readonly beamS: number;
	/** Standard uncertainty: fully shared between cuts of one rate, independent between rates. */
	readonly uncertaintyS: number;
}

export interface Plan {
	readonly cuts: readonly (PlannedTime & { readonly name: string; readonly stage: string })[];
	readonly stages: Readonly<Record<string, PlannedTime>>;
	readonly whole: PlannedTime;
	/** Rates that are still defaults, or from memory: told beside the times. */
	readonly uncalibrated: readonly string[];
}

/** Volume of a shape in m³. Throws a RangeError for a size that is not above 0. */
export function volumeM3(shape: Shape): number {
	const volume =
		shape.kind === 'polygon'
			? Math.abs(polygonAreaM2(shape.corners)) * shape.depthM
			: shape.lengthM * shape.widthM * shape.depthM * (shape.kind === 'wedge' ? 0.5 : 1);
	if (!(volume > 0 && Number.isFinite(volume)))
		throw new RangeError(`the volume of a ${shape.kind} is ${volume} m³; expected above 0`);
	return volume;
}

/** Times of all cuts, by cut, by stage and altogether. Throws a RangeError for an unknown rate or a current that is not above 0. */
export function planCuts(cuts: readonly PlannedCut[], rates: Readonly<Record<string, RateInUse>>): Plan {
	const timed = cuts.map((cut) => {
		const inUse = Object.hasOwn(rates, cut.rate) ? rates[cut.rate] : undefined;
		if (!inUse)
			throw new RangeError(
				`cut "${cut.name}" names the rate "${cut.rate}"; expected one of ${Object.keys(rates).join(', ')}`
			);
		if (!(cut.currentA > 0))
			throw new RangeError(`the current of cut "${cut.name}" is ${cut.currentA} A; expected above 0`);
		const beamS = cut.times * beamTimeS(volumeM3(cut.shape), inUse.rate, cut.currentA, cut.redeposition);
		return { ...cut, beamS, uncertaintyS: beamS * inUse.relativeScatter };
	});
	const stages = [...new Set(timed.map(({ stage }) => stage))];
	return {
		cuts: timed.map(({ name, stage, beamS, uncertaintyS }) => ({ name, stage, beamS, uncertaintyS })),
		stages: Object.fromEntries(stages.map((stage) => [stage, total(timed.filter((cut) => cut.stage === stage))])),
		whole: total(timed),
		uncalibrated: [...new Set(cuts.map(({ rate }) => rate))].filter((rate) => rates[rate]?.from !== 'own cuts')
	};
}

function total(cuts: readonly (PlannedTime & { readonly rate: string })[]): PlannedTime {
	const byRate = new Map<string, number>();
	for (const { rate, uncertaintyS } of cuts) byRate.set(rate, (byRate.get(rate) ?? 0) + uncertaintyS);
	return { beamS: cuts.reduce((sum, { beamS }) => sum + beamS, 0), uncertaintyS: Math.hypot(...byRate.values()) };
}
