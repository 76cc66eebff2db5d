import type { RailModel, Span, Spread } from './model';

/** Where everything on the rail stands, in px; y counts from the band's own middle. */
export interface RailGeometry {
	readonly x: (ms: number) => number;
	/** Half the height of the band with its posts. */
	readonly half: number;
	readonly walked: readonly { readonly from: number; readonly to: number }[];
	readonly pauses: readonly { readonly from: number; readonly to: number }[];
	/** Zigzag paths. */
	readonly gaps: readonly string[];
	readonly posts: readonly number[];
	/** The two thin lines; null where nothing is to come. */
	readonly toCome: { readonly from: number; readonly to: number } | null;
	/** Outline of the spread. */
	readonly sleeve: string | null;
	readonly likely: { readonly from: number; readonly to: number } | null;
	readonly now: number | null;
	readonly wall: number | null;
	readonly latest: readonly number[];
}

/** Lays the model out on `widthPx`; `half` is half the height of a post. The scale begins at the run's begin. */
export function railGeometry(model: RailModel, widthPx: number, half: number): RailGeometry {
	const last = model.scaleToMs ?? Math.max(model.nowMs, model.ends?.p90Ms ?? 0, model.bookingEndMs ?? 0, ...model.latestStarts.map((l) => l.atMs), 60_000);
	const inset = 3;
	// one straight line: d3-scale would bring colours, formats and calendars into the walk
	const pxPerMs = Math.max(1, widthPx - 2 * inset) / last;
	const on = (ms: number) => inset + ms * pxPerMs;
	const breaks = [...model.pauses, ...model.gaps].map(upTo(model.nowMs)).sort((a, b) => a.fromMs - b.fromMs);
	const ends = model.ends;
	return {
		x: on,
		half,
		walked: between(breaks, model.nowMs).map((span) => ({ from: on(span.fromMs), to: on(span.toMs) })),
		pauses: model.pauses.map(upTo(model.nowMs)).map((span) => widened(on(span.fromMs), on(span.toMs))),
		gaps: model.gaps.map(upTo(model.nowMs)).map((span) => zigzag(widened(on(span.fromMs), on(span.toMs)), half * 0.45)),
		posts: posts(model).map(on),
		toCome: ends && ends.p50Ms > model.nowMs ? { from: on(model.nowMs), to: on(ends.p50Ms) } : null,
		sleeve: ends ? sleeve(model, on, half) : null,
		likely: ends ? { from: on(ends.p10Ms), to: on(ends.p90Ms) } : null,
		now: model.live ? on(model.nowMs) : null,
		wall: model.bookingEndMs === null ? null : on(model.bookingEndMs),
		latest: model.latestStarts.map((latest) => on(latest.atMs))
	};
}

/** Moments at which posts stand: where stages met, where they are likely to meet, and the likely end. */
function posts(model: RailModel): number[] {
	const moments = model.stages.flatMap((stage) => {
		if (stage.state === 'left out') return [];
		return [stage.startMs ?? stage.begins?.p50Ms, stage.state === 'walked' ? stage.endMs : stage.ends?.p50Ms];
	});
	const known = [...moments, model.ends?.p50Ms].filter((ms): ms is number => ms !== undefined).sort((a, b) => a - b);
	return known.filter((ms, i) => i === 0 || ms - (known[i - 1] as number) > 1000);
}

/**
 * The outline: as thick as a post where the spread (P10 to P90) is largest, elsewhere in proportion; a spread narrower than a
 * post is high is drawn thinner than the post. Flat from the likely end to its ninth case of ten.
 */
function sleeve(model: RailModel, on: (ms: number) => number, half: number): string | null {
	const spreadPx = ({ p10Ms, p90Ms }: Spread) => on(p90Ms) - on(p10Ms);
	const ahead = model.stages.flatMap(({ state, ends }) => (ends && (state === 'running' || state === 'to come') ? [ends] : []));
	const all = [...ahead, ...(model.ends ? [model.ends] : [])];
	const full = Math.max(2 * half, ...all.map(spreadPx));
	const points: { at: number; half: number }[] = [{ at: on(model.nowMs), half: 0 }];
	const add = (atMs: number, spread: Spread) => {
		const before = points.at(-1) as { at: number; half: number };
		const at = on(atMs);
		// a spread never narrows towards the end
		if (at > before.at + 0.5) points.push({ at, half: Math.max(before.half, (half * spreadPx(spread)) / full) });
	};
	for (const ends of all) add(ends.p50Ms, ends);
	if (model.ends) add(model.ends.p90Ms, model.ends);
	if (points.length < 2) return null;
	const above = points.map((p): Point => [p.at, -p.half]);
	const below = points.map((p): Point => [p.at, p.half]);
	return `${pathOf([...above, ...below.reverse()])}Z`;
}

type Point = readonly [x: number, y: number];
// straight from point to point: d3-shape would bring every curve it knows into the walk
const pathOf = (points: readonly Point[]): string => `M${points.map(([x, y]) => `${x.toFixed(2)},${y.toFixed(2)}`).join('L')}`;

const upTo = (nowMs: number) => (span: Span): Span => ({ fromMs: Math.max(0, span.fromMs), toMs: Math.min(nowMs, Math.max(span.toMs, span.fromMs)) });

/** What is left of 0 … nowMs outside the breaks. */
function between(breaks: readonly Span[], nowMs: number): Span[] {
	const left: Span[] = [];
	let fromMs = 0;
	for (const gap of breaks) {
		if (gap.fromMs > fromMs) left.push({ fromMs, toMs: gap.fromMs });
		fromMs = Math.max(fromMs, gap.toMs);
	}
	if (nowMs > fromMs) left.push({ fromMs, toMs: nowMs });
	return left;
}

/** Never thinner than can be seen. */
function widened(from: number, to: number): { from: number; to: number } {
	const lacks = Math.max(0, 7 - (to - from)) / 2;
	return { from: from - lacks, to: to + lacks };
}

function zigzag({ from, to }: { from: number; to: number }, high: number): string {
	const teeth = Math.max(2, Math.round((to - from) / 7));
	return pathOf(Array.from({ length: teeth + 1 }, (_, i): Point => [from + ((to - from) * i) / teeth, i === 0 || i === teeth ? 0 : i % 2 ? -high : high]));
}
