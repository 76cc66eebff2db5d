import * as m from '$lib/paraglide/messages';
import { type Chart, ewmaChart, individualsChart } from '$lib/timing/charts/measured';
import type { NotEnough } from '$lib/timing/learning';

/** One value on a chart, in the unit of its axis, with its words. */
export interface ControlPoint {
	readonly value: number;
	readonly signal: 'high' | 'low' | null;
	/** When, as the table says it. */
	readonly when: string;
	/** The value in words. */
	readonly text: string;
}

export interface ControlView {
	readonly points: readonly ControlPoint[];
	readonly centre: number;
	readonly lower: number;
	readonly upper: number;
	readonly verdict: string;
	readonly rule: string;
}

/** Both charts of one series: each value for itself, and their running mean. */
export interface ControlPair {
	readonly single: ControlView;
	readonly running: ControlView;
}

export interface Measured {
	readonly value: number;
	readonly when: string;
}

/** The first values say what is usual, the later ones are judged by it. */
const BASELINE = 8;
const LAMBDA = 0.3;

/**
 * Individuals and EWMA charts of a series, oldest first. `as: 'time'` judges logarithms, since times are skewed; `text` says a value.
 * Too few: what is there and what is needed.
 */
export function controlPair(series: readonly Measured[], as: 'time' | 'offset', text: (value: number) => string): ControlPair | NotEnough {
	if (series.length <= BASELINE) return { notEnough: true, have: series.length, need: BASELINE + 1 };
	const [into, back] = as === 'time' ? [Math.log, Math.exp] : [(value: number) => value, (value: number) => value];
	const values = series.map(({ value }) => into(value));
	const single = individualsChart(values, values.slice(0, BASELINE));
	const running = ewmaChart(values, { start: single.centre, sd: (single.upper - single.centre) / 3, lambda: LAMBDA });
	const view = (chart: Chart, verdict: string, rule: string): ControlView => ({
		points: chart.points.map(({ value, signal }, i) => ({ value: back(value), signal, when: series[i]?.when ?? '', text: text(back(value)) })),
		centre: back(chart.centre),
		lower: back(chart.lower),
		upper: back(chart.upper),
		verdict,
		rule
	});
	const baseline = String(BASELINE);
	return {
		single: view(single, singleVerdict(single), as === 'time' ? m.rule_single_time({ baseline }) : m.rule_single_offset({ baseline })),
		running: view(running, runningVerdict(running), m.rule_running({ lambda: String(LAMBDA), baseline }))
	};
}

function singleVerdict({ points }: Chart): string {
	const out = points.flatMap(({ signal }, i) => (signal ? [String(i + 1)] : []));
	return out.length === 0 ? m.verdict_single_quiet() : m.verdict_single_told({ runs: out.join(m.words_and()) });
}

/** Where the running mean stands at the end comes first; one that had drifted and is back is told too. */
function runningVerdict({ points }: Chart): string {
	const end = points.at(-1)?.signal ?? null;
	const last = points.findLastIndex(({ signal }) => signal !== null) + 1;
	if (last === 0) return m.verdict_running_quiet();
	if (end === null) return m.verdict_running_back({ run: String(last) });
	const since = points.findLastIndex(({ signal }) => signal !== end) + 2;
	return end === 'high' ? m.verdict_running_up({ run: String(since) }) : m.verdict_running_down({ run: String(since) });
}
