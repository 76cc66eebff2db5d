import type { AxisDrift } from '$lib/metrology/storedPositions';

/** One axis of a stored place from visit to visit, on a field of `width` × `height` px. */
export interface DriftDrawn {
	readonly dots: readonly (readonly [x: number, y: number])[];
	/** Path of the weighted means. */
	readonly ewma: string;
	/** Upper and lower edge of the limits; null below two visits. */
	readonly limits: { readonly top: number; readonly bottom: number } | null;
	readonly ewmaLimits: { readonly top: number; readonly bottom: number } | null;
	readonly mean: number | null;
}

const MARGIN = 10;

/** Both charts to one scale, newest visit to the right. */
export function drawDrift({ values, ewma, individuals, ewmaLimits }: AxisDrift, width: number, height: number): DriftDrawn {
	const all = [...values, ...ewma, ...(individuals ? [individuals.low, individuals.high] : []), ...(ewmaLimits ? [ewmaLimits.low, ewmaLimits.high] : [])];
	const [low, high] = [Math.min(...all), Math.max(...all)];
	// a place that never moved, but for what is below any reading (1 pm), stands in the middle
	const span = high - low;
	const y = (value: number): number => (span < 1e-12 ? height / 2 : height - MARGIN - ((value - low) / span) * (height - 2 * MARGIN));
	const step = values.length > 1 ? (width - 4 * MARGIN) / (values.length - 1) : 0;
	const x = (visit: number): number => (values.length > 1 ? 2 * MARGIN + visit * step : width / 2);
	const band = (limits: { low: number; high: number } | null) => limits && { top: y(limits.high), bottom: y(limits.low) };
	return {
		dots: values.map((value, visit) => [x(visit), y(value)] as const),
		ewma: ewma.map((value, visit) => `${visit === 0 ? 'M' : 'L'}${x(visit)} ${y(value)}`).join(''),
		limits: band(individuals),
		ewmaLimits: band(ewmaLimits),
		mean: individuals ? y(individuals.mean) : null
	};
}
