import { render, screen, within } from '@testing-library/svelte';
import { tick } from 'svelte';
import { describe, expect, it } from 'vitest';
import { qualityOfLimit } from '$lib/timing/charts/sign-off';
import { signOffSeries } from '$lib/timing/charts/sign-off-series';
import { controlPair } from '$lib/session/control-views';
import { fitPractice } from '$lib/timing/learning';
import { timeAxis } from '$lib/session/time-axis';
import { isNotEnough, notEnoughText, practiceVerdict, signOffRules } from '$lib/session/verdict-words';
import ControlChart from './ControlChart.svelte';
import PracticeChart from './PracticeChart.svelte';
import { plotFrame } from './plot-frame';
import SignOffChart from './SignOffChart.svelte';
import StepStrips from './StepStrips.svelte';

const cells = (row: HTMLElement) => within(row).getAllByRole('cell').map((cell) => cell.textContent);
/** The rows of the table behind the picture, which is opened first. */
async function rows(): Promise<HTMLElement[]> {
	const details = document.querySelector('details')!;
	details.open = true;
	details.dispatchEvent(new Event('toggle'));
	await tick();
	return screen.getAllByRole('row').slice(1);
}

describe('a plot’s frame', () => {
	const wish = { widthPx: 800, heightPx: 300, letterPx: 20, xDomain: [1, 5], yDomain: [3, 97], yLetters: 3, xText: String, yText: String, wholeX: true } as const;
	it('puts round numbers at the axis, whole ones along the runs, all within its edges', () => {
		const frame = plotFrame(wish);
		expect(frame.yTicks.map(({ text }) => text)).toEqual(['0', '20', '40', '60', '80', '100']);
		expect(frame.xTicks.map(({ text }) => text)).toEqual(['1', '2', '3', '4', '5']);
		expect([frame.x(1), frame.x(5)]).toEqual([frame.left, frame.right]);
		expect(frame.y(97)).toBeGreaterThanOrEqual(frame.top);
		expect(frame.y(3)).toBeLessThanOrEqual(frame.bottom);
	});
	it('keeps a length for a single value', () => {
		const frame = plotFrame({ ...wish, xDomain: [1, 1], yDomain: [5, 5] });
		expect([frame.x(1), frame.y(5)].every(Number.isFinite)).toBe(true);
	});
});

describe('F10 a control chart', () => {
	const series = [10, 11, 9, 10.5, 9.5, 10, 11, 9, 10, 30, 10].map((value, i) => ({ value, when: `day ${i + 1}` }));
	it('says in words, by shape and in its table which run is out', async () => {
		const pair = controlPair(series, 'time', (value) => `${value.toFixed(1)} min`);
		if (isNotEnough(pair)) throw new Error('eleven runs are enough');
		const { verdict, rule } = pair.single;
		const { container } = render(ControlChart, { name: 'Each run.', table: 'each run', view: pair.single, verdict, rule, yTitle: 'minutes', yText: String });
		expect(verdict).toBe('Out of what the first ones lead one to expect: run 10.');
		expect(screen.getByRole('img').getAttribute('aria-label')).toContain('run 10');
		expect([container.querySelectorAll('circle').length, container.querySelectorAll('path.told').length]).toEqual([10, 1]);
		expect((await rows()).map((row) => cells(row).at(-1)).filter(Boolean)).toEqual(['above']);
		expect(cells((await rows())[9]!)).toEqual(['day 10', '30.0 min', 'above']);
		expect(screen.getByText(rule)).toBeTruthy();
	});
	it('says that there are not enough runs', () => {
		const few = controlPair(series.slice(0, 8), 'time', String);
		expect(isNotEnough(few) && notEnoughText(few)).toBe('Not enough runs: 8 of 9.');
	});
	it('tells the direction of a drift, and since when', () => {
		const drifting = controlPair([...series.slice(0, 8), ...[14, 15, 15, 16].map((value) => ({ value, when: '' }))], 'offset', String);
		expect(!isNotEnough(drifting) && drifting.running.verdict).toMatch(/^Drifted up since run (9|10)\.$/);
	});
	it('tells of a drift that is over', () => {
		const usual = series.slice(0, 8);
		const mean = usual.reduce((sum, { value }) => sum + value, 0) / usual.length;
		const drifted = [...usual, ...[16, 16, 16].map((value) => ({ value, when: '' })), ...Array.from({ length: 20 }, () => ({ value: mean, when: '' }))];
		const pair = controlPair(drifted, 'offset', String);
		expect(!isNotEnough(pair) && pair.running.verdict).toMatch(/^No drift now; it had drifted until run 1\d\.$/);
	});
});

describe('a curve of practice', () => {
	it('draws every run and puts the curve’s own value beside it', async () => {
		// an 80 % curve: b = 0.322 (Newell & Rosenbloom 1981; Wright 1936; from memory)
		const timesMs = Array.from({ length: 8 }, (_, i) => 6_000_000 * (i + 1) ** -0.3219280948873623);
		const fit = fitPractice(timesMs, 'unit');
		if (isNotEnough(fit)) throw new Error('eight runs are enough');
		expect(practiceVerdict(fit)).toMatch(/^Each doubling of runs leaves 80 % of the time/);
		const { container } = render(PracticeChart, { name: 'Lift out', table: 'practice', valuesMs: timesMs, whens: timesMs.map(() => ''), fit, axis: timeAxis(timesMs), verdict: '', rule: '' });
		expect(container.querySelectorAll('circle')).toHaveLength(8);
		expect((await rows()).map((row) => cells(row).slice(1))).toEqual([['100', '100'], ['80', '80'], ['70', '70'], ['64', '64'], ['60', '60'], ['56', '56'], ['53', '53'], ['51', '51']]);
	});
});

describe('a sign-off chart', () => {
	const rates = { accepted: 0.1, unaccepted: 0.2 };
	const limits = { learning: qualityOfLimit('lc-cusum', rates, 1.25, 50, { series: 10 }), watched: qualityOfLimit('cusum', rates, 1.8, 50, { series: 10 }) };
	it('marks well done and not by shape, and plants a post where the answer came', async () => {
		const attempts = [...Array.from({ length: 11 }, () => true), false];
		const series = signOffSeries(attempts, rates, limits);
		const { container } = render(SignOffChart, { name: 'Load', table: 'ready', series, limits, attempts: attempts.map((well) => ({ when: '', why: well ? '' : 'a trouble' })), verdict: 'Ready', rules: signOffRules(rates, limits) });
		expect([container.querySelectorAll('circle').length, container.querySelectorAll('path.cross').length, container.querySelectorAll('path.post').length]).toEqual([11, 1, 1]);
		expect(cells((await rows())[10]!)).toEqual(['', 'well done', '1.30', 'ready?', 'ready']);
		expect(cells((await rows())[11]!).slice(1, 2)).toEqual(['a trouble']);
		expect(screen.getByText(/“Ready” is said when the sum reaches 1\.25\. An attempt well done adds 0\.12, another takes away 0\.69/)).toBeTruthy();
	});
});

describe('strips of steps', () => {
	it('gives each step’s spread in words, or says that there are not enough', () => {
		const strip = { id: 'a', name: 'Clean gloves', timesMs: [40_000, 45_000, 50_000], plannedMs: 45_000, spread: { p10Ms: 41_000, medianMs: 45_000, p90Ms: 49_000 } };
		render(StepStrips, { name: 'Steps', strips: [strip, { ...strip, id: 'b', name: 'Strap', timesMs: [1000], spread: null }], timeText: (ms) => `${ms / 1000} s`, need: 5 });
		expect(screen.getAllByRole('img').map((picture) => picture.getAttribute('aria-label'))).toEqual(['middle 45 s, eight of ten from 41 s to 49 s, 3 visits', 'Not enough runs: 1 of 5.']);
	});
});
