import { describe, expect, it } from 'vitest';
import { railGeometry } from './geometry';
import type { RailModel } from './model';

const min = (minutes: number) => minutes * 60_000;
const spread = (p10: number, p50: number, p90: number) => ({ p10Ms: min(p10), p50Ms: min(p50), p90Ms: min(p90) });
const model: RailModel = {
	nowMs: min(50),
	live: true,
	bookingEndMs: min(200),
	ends: spread(90, 100, 120),
	fits: 0.9,
	latestStarts: [{ stage: 'b', name: 'B', atMs: min(150) }],
	pauses: [{ fromMs: min(10), toMs: min(20) }],
	gaps: [],
	stages: [
		{ id: 'a', name: 'A', short: 'A', state: 'walked', startMs: 0, endMs: min(40), plannedMs: min(40) },
		{ id: 'b', name: 'B', short: 'B', state: 'running', startMs: min(40), ends: spread(90, 100, 120), plannedMs: min(50) }
	]
};
/** Largest distance of an outline from the middle, and how far right it reaches, from an SVG path. */
function reach(d: string): { high: number; right: number } {
	const numbers = (d.match(/-?\d+(\.\d+)?/g) ?? []).map(Number);
	return { high: Math.max(...numbers.filter((_, i) => i % 2 === 1).map(Math.abs)), right: Math.max(...numbers.filter((_, i) => i % 2 === 0)) };
}

describe('the rail’s places', () => {
	// 200 minutes on 1006 px less 3 px at both ends: 5 px a minute
	const place = railGeometry(model, 1006, 20);
	it('is to the scale of time', () => {
		expect(place.x(min(100)) - place.x(min(50))).toBeCloseTo(place.x(min(200)) - place.x(min(150)), 6);
		expect(place.now).toBeCloseTo(253, 6);
		expect(place.wall).toBeCloseTo(1003, 6);
		expect(place.latest).toEqual([753]);
	});
	it('is solid where walked, with pauses left out', () => {
		const rounded = (spans: readonly { from: number; to: number }[]) => spans.map(({ from, to }) => ({ from: Math.round(from), to: Math.round(to) }));
		expect(rounded(place.walked)).toEqual([{ from: 3, to: 53 }, { from: 103, to: 253 }]);
		expect(rounded(place.pauses)).toEqual([{ from: 53, to: 103 }]);
	});
	it('sets posts where stages meet and at the likely end', () => expect(place.posts.map(Math.round)).toEqual([3, 203, 503]));
	it('draws two wires from now to the likely end, and the sleeve on to nine cases of ten', () => {
		expect(place.toCome).toEqual({ from: 253, to: 503 });
		const { high, right } = reach(place.sleeve ?? '');
		expect(right).toBeCloseTo(603, 3);
		expect(high).toBeLessThanOrEqual(20);
	});
	it('draws a narrow spread thinner than a post', () => {
		const sure = { ...model, ends: spread(99, 100, 101), stages: model.stages.map((stage) => (stage.ends ? { ...stage, ends: spread(99, 100, 101) } : stage)) };
		expect(reach(railGeometry(sure, 1006, 20).sleeve ?? '').high).toBeLessThan(10);
	});
	it('keeps the whole spread on the picture where the visit will not fit', () => {
		const late = railGeometry({ ...model, ends: spread(190, 220, 260) }, 1006, 20);
		expect(late.likely?.to).toBeLessThanOrEqual(1003);
		expect(late.wall).toBeLessThan(late.likely?.to ?? 0);
	});
	it('draws a gap as a torn line wide enough to be seen, and nothing to come when the run is over', () => {
		const over = railGeometry({ ...model, live: false, ends: null, gaps: [{ fromMs: min(30), toMs: min(30) }] }, 1006, 20);
		expect(over.gaps[0]).toMatch(/^M.*L/);
		expect([over.now, over.toCome, over.sleeve]).toEqual([null, null, null]);
	});
});
