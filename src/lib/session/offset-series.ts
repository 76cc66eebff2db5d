import type { Localised } from '$lib/procedure/edition';
import type { RunFacts } from '$lib/run/run-facts';

/** First measurements of one adjusting loop over many runs, oldest first. */
export interface OffsetSeries {
	/** Step, reading and unit: values in different units are never put on one chart. */
	readonly id: string;
	readonly step: string;
	readonly name: Localised;
	readonly unit: string;
	readonly values: readonly { readonly run: string; readonly atMs: number; readonly value: number }[];
}

export function offsetSeries(runs: readonly RunFacts[]): OffsetSeries[] {
	const series = new Map<string, OffsetSeries & { values: OffsetSeries['values'][number][] }>();
	for (const { run, past, offsets } of runs)
		for (const { step, reading, name, value, unit } of offsets) {
			const id = `${step} ${reading} ${unit}`;
			const known = series.get(id) ?? { id, step, name, unit, values: [] };
			known.values.push({ run, atMs: past.startedAtMs, value });
			series.set(id, known);
		}
	return [...series.values()];
}
