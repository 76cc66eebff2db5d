import { scaleLinear } from 'd3-scale'; // well-kept ticks and round domains; loaded by the pages with charts only

export interface Tick {
	readonly at: number;
	readonly text: string;
}

/** Where a plot's axes stand, px. */
export interface PlotFrame {
	readonly x: (value: number) => number;
	readonly y: (value: number) => number;
	readonly left: number;
	readonly right: number;
	readonly top: number;
	readonly bottom: number;
	readonly xTicks: readonly Tick[];
	readonly yTicks: readonly Tick[];
}

export interface PlotWish {
	readonly widthPx: number;
	readonly heightPx: number;
	readonly letterPx: number;
	readonly xDomain: readonly [number, number];
	/** Made round. */
	readonly yDomain: readonly [number, number];
	/** Letters that the longest y tick takes. */
	readonly yLetters: number;
	readonly xText: (value: number) => string;
	readonly yText: (value: number) => string;
	/** Only these x ticks are offered; absent: round numbers. */
	readonly wholeX?: boolean;
}

/** Lays a plot out: ticks no closer than their words allow. */
export function plotFrame({ widthPx, heightPx, letterPx, xDomain, yDomain, yLetters, xText, yText, wholeX }: PlotWish): PlotFrame {
	const left = letterPx * (yLetters * 0.62 + 0.8);
	const right = Math.max(left + 1, widthPx - letterPx * 0.8);
	const top = letterPx * 1.1;
	const bottom = Math.max(top + 1, heightPx - letterPx * 1.7);
	// one value alone would leave the axis without length
	const [low, high] = yDomain[0] === yDomain[1] ? [yDomain[0] - 1, yDomain[1] + 1] : yDomain;
	const y = scaleLinear().domain([low, high]).nice(4).range([bottom, top]);
	const x = scaleLinear()
		.domain([xDomain[0], xDomain[1] === xDomain[0] ? xDomain[0] + 1 : xDomain[1]])
		.range([left, right]);
	const most = Math.max(2, Math.floor((right - left) / (letterPx * 4)));
	const xTicks = x.ticks(most).filter((value) => !wholeX || Number.isInteger(value));
	return {
		x: (value) => x(value),
		y: (value) => y(value),
		left,
		right,
		top,
		bottom,
		xTicks: xTicks.map((value) => ({ at: x(value), text: xText(value) })),
		yTicks: y.ticks(4).map((value) => ({ at: y(value), text: yText(value) }))
	};
}
