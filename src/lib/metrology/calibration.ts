import type { RateRow } from './rates';
import { studentQuantile } from './student';

/**
 * A rate from one's own measured cuts: charge = b·volume through the origin, b = 1/rate. What scatters from cut to cut (grain, angle,
 * redeposition, the measurement of the volume) grows with the cut, so each cut is weighted by 1/volume²; then b is the mean of
 * the single quotients and their scatter s has n − 1 degrees of freedom (derived: weighted least squares, variance ∝ volume²).
 */

/** One measured cut or deposit. */
export interface MeasuredCut {
	readonly volumeM3: number;
	readonly currentA: number;
	readonly timeS: number;
}

export interface Calibration {
	/** m³/C. */
	readonly rate: number;
	readonly cuts: number;
	/** Charge per volume (C/m³) and its scatter from cut to cut. */
	readonly chargePerVolume: number;
	readonly scatter: number;
}

/** Fits `cuts`; throws a RangeError for a volume, current or time that is not above 0, or for fewer than 2 cuts. */
export function calibrate(cuts: readonly MeasuredCut[]): Calibration {
	if (cuts.length < 2) throw new RangeError(`${cuts.length} measured cuts; expected at least 2`);
	const quotients = cuts.map(({ volumeM3, currentA, timeS }, index) => {
		for (const [what, value] of Object.entries({ volume: volumeM3, current: currentA, time: timeS }))
			if (!(value > 0 && Number.isFinite(value)))
				throw new RangeError(`${what} of cut ${index + 1} is ${value}; expected above 0`);
		return (currentA * timeS) / volumeM3;
	});
	const mean = quotients.reduce((sum, q) => sum + q, 0) / quotients.length;
	const scatter = Math.sqrt(quotients.reduce((sum, q) => sum + (q - mean) ** 2, 0) / (quotients.length - 1));
	return { rate: 1 / mean, cuts: cuts.length, chargePerVolume: mean, scatter };
}

export interface Interval {
	readonly least: number;
	readonly most: number;
}

/**
 * Beam time of the next cut and its prediction interval: V/I·(b ± t·s·√(1 + 1/n)), t of n − 1 degrees of freedom. `probability`
 * is that of the interval, 0.9 by default. The lower end is 0 where the scatter would make it negative: a time is not below 0.
 */
export function predictTimeS(
	{ chargePerVolume, scatter, cuts }: Calibration,
	volumeM3: number,
	currentA: number,
	probability = 0.9
): { timeS: number; interval: Interval } {
	const scale = volumeM3 / currentA;
	const half = studentQuantile((1 + probability) / 2, cuts - 1) * scatter * Math.sqrt(1 + 1 / cuts);
	return {
		timeS: scale * chargePerVolume,
		interval: { least: scale * Math.max(0, chargePerVolume - half), most: scale * (chargePerVolume + half) }
	};
}

/** Which rate is in use, said on the screen. */
export interface RateInUse {
	readonly from: 'default' | 'default and own cuts' | 'own cuts';
	/** m³/C. */
	readonly rate: number;
	/** Standard uncertainty of one cut's rate around it, as a part of the rate. */
	readonly relativeScatter: number;
	readonly cuts: number;
	/** How many more cuts bring the next step; 0 at the last. */
	readonly cutsToNext: number;
	/** Own cuts lie outside the default's range: told, because either may be wrong. */
	readonly disagrees: boolean;
	/** True while the value rests on memory alone. */
	readonly fromMemory: boolean;
}

/** From this many own cuts on they are mixed in, and from that many on they stand alone. */
const mixFrom = 2;
const aloneFrom = 5;

/**
 * The default is replaced in steps: below 2 own cuts the default stands; from 2 on both are weighed by their precision, the
 * default's range counting as ± 2 standard deviations and the own scatter with its √n; from 5 on the own cuts stand alone.
 */
export function rateInUse(row: RateRow, cuts: readonly MeasuredCut[]): RateInUse {
	const spread = (row.most - row.least) / (4 * row.rate);
	if (cuts.length < mixFrom)
		return {
			from: 'default',
			rate: row.rate,
			relativeScatter: spread,
			cuts: cuts.length,
			cutsToNext: mixFrom - cuts.length,
			disagrees: false,
			fromMemory: row.fromMemory
		};
	const own = calibrate(cuts);
	const ownScatter = own.scatter / own.chargePerVolume;
	const disagrees = own.rate < row.least || own.rate > row.most;
	const common = { cuts: own.cuts, disagrees };
	if (own.cuts >= aloneFrom)
		return {
			...common,
			from: 'own cuts',
			rate: own.rate,
			relativeScatter: ownScatter,
			cutsToNext: 0,
			fromMemory: false
		};
	// a scatter from two to four cuts is itself uncertain: Student's factor widens it to what a normal would need
	const widened = (ownScatter * studentQuantile(0.8413, own.cuts - 1)) / Math.sqrt(own.cuts);
	const weight = widened === 0 ? 1 : spread ** 2 / (spread ** 2 + widened ** 2);
	return {
		...common,
		from: 'default and own cuts',
		rate: weight * own.rate + (1 - weight) * row.rate,
		relativeScatter: Math.max(ownScatter, Math.sqrt((1 - weight) * spread ** 2 + ownScatter ** 2)),
		cutsToNext: aloneFrom - own.cuts,
		fromMemory: row.fromMemory
	};
}

/**
 * Redeposition of one kind of cut, learned: how many times longer it takes than flat, shallow cuts of the same material would, from
 * both calibrations; with its standard uncertainty. 1 and "not learned" belong to the caller until both exist.
 */
export function learnRedeposition(flat: Calibration, deep: Calibration): { factor: number; uncertainty: number } {
	const factor = deep.chargePerVolume / flat.chargePerVolume;
	const relative = ({ scatter, chargePerVolume, cuts }: Calibration): number =>
		scatter / chargePerVolume / Math.sqrt(cuts);
	return { factor, uncertainty: factor * Math.hypot(relative(flat), relative(deep)) };
}
