import { render, screen } from '@testing-library/svelte';
import { describe, expect, it } from 'vitest';
import { textWidthPx } from './letter-widths';
import type { RailModel } from './model';
import Rail from './Rail.svelte';

const min = (minutes: number) => minutes * 60_000;
const spread = (p10: number, p50: number, p90: number) => ({ p10Ms: min(p10), p50Ms: min(p50), p90Ms: min(p90) });
const clock = (ms: number) => `${13 + Math.floor(ms / 3_600_000)}:${String(Math.round(ms / 60_000) % 60).padStart(2, '0')}`;
const model: RailModel = {
	nowMs: min(66),
	live: true,
	bookingEndMs: min(240),
	ends: spread(188, 206, 224),
	fits: 0.95,
	latestStarts: [{ stage: 'return', name: 'Return', atMs: min(208) }],
	pauses: [{ fromMs: min(40), toMs: min(46) }],
	gaps: [{ fromMs: min(20), toMs: min(23) }],
	stages: [
		{ id: 'load', name: 'Load', short: 'Load', state: 'walked', startMs: 0, endMs: min(32), plannedMs: min(30) },
		{ id: 'pick', name: 'Pick up a tip', short: 'Pick up', state: 'running', startMs: min(32), ends: spread(76, 80, 88), plannedMs: min(30) },
		{ id: 'thin', name: 'Thin', short: 'Thin', state: 'left out', plannedMs: min(30) },
		{ id: 'return', name: 'Return the tip', short: 'Return', state: 'to come', begins: spread(76, 80, 88), ends: spread(188, 206, 224), plannedMs: min(12) }
	]
};

describe('the rail', () => {
	it('says the whole picture in sentences', () => {
		render(Rail, { model, clock });
		const said = screen.getAllByRole('listitem').map((item) => item.textContent);
		expect(said).toEqual([
			'begun 13:00',
			'now 14:06',
			'Load: 13:00 to 13:32, took 32 min',
			'Pick up a tip: since 13:32, likely until 14:20',
			'Thin: left out',
			'Return the tip: likely 14:20 to 16:26',
			'paused 13:40 to 13:46',
			'not measured 13:20 to 13:23',
			'likely done 16:08–16:44',
			'Return by 16:28',
			'booking ends 17:00',
			'visit fits, 9 in 10'
		]);
	});
	it('draws words that do not overlap, the stage in hand among them', () => {
		const { container } = render(Rail, { model, clock });
		const words = [...container.querySelectorAll('svg text')].map((text) => ({
			y: text.getAttribute('y'),
			x: Number(text.getAttribute('x')),
			width: textWidthPx(text.textContent ?? '', 18),
			text: text.textContent
		}));
		expect(words.map(({ text }) => text)).toContain('Pick up a tip');
		for (const a of words) for (const b of words) if (a !== b && a.y === b.y) expect(a.x + a.width <= b.x || b.x + b.width <= a.x).toBe(true);
	});
	it('tells the same without colour: walked, to come, pause, gap, now, wall and flag are shapes of their own', () => {
		const { container } = render(Rail, { model, clock });
		for (const shape of ['walked', 'wire', 'sleeve', 'pause', 'gap', 'post', 'now', 'wall', 'flag']) expect(container.querySelector(`svg .${shape}`), shape).not.toBeNull();
	});
	it('leaves words out where it is bare, but not the sentences', () => {
		const { container } = render(Rail, { model, clock, bare: true });
		expect(container.querySelectorAll('svg text')).toHaveLength(0);
		expect(screen.getAllByRole('listitem').length).toBeGreaterThan(5);
	});
});
