import { describe, expect, it, vi } from 'vitest';
import { plannedProcedure, runNow } from '$lib/run/ahead';
import { pastRunOf } from '$lib/run/durations';
import { timelineOf } from '$lib/run/timeline';
import { lineOf } from '$lib/record/chain';
import { createForecast } from '$lib/timing/forecast';
import { fakeTimeLine } from '../../../../tests/fixtures/fake-time-line';
import { benchEdition } from '../../../../tests/simulation/bench-edition';
import { Walk } from '../../../../tests/simulation/walk';
import { lineTimekeeper } from './line-timekeeper';

const edition = benchEdition();
const procedure = plannedProcedure(edition);
function walked(steps: number): Walk {
	const walk = Walk.begin(edition);
	for (let i = 0; i < steps; i++) walk.next();
	return walk;
}
const history = [pastRunOf(timelineOf(walked(3).events))!];
const bytesOf = (walk: Walk) => new TextEncoder().encode(walk.events.map((event) => `${lineOf(event)}\n`).join(''));
const now = () => {
	const walk = walked(1);
	return runNow(timelineOf(walk.events), walk.clock.now());
};

describe('the timekeeper at the other end of a line', () => {
	it('F5 gives the numbers that the forecast gives in place: same journal, same seed', async () => {
		const forecaster = lineTimekeeper(fakeTimeLine).forecaster(procedure, history);
		const there = await forecaster.ask(now(), { seed: 7 });
		expect(there).toEqual(createForecast(procedure, history).forecast(now(), { seed: 7 }));
		expect(await forecaster.ask(now(), { seed: 8 })).not.toEqual(there);
	});

	it('F6 works on one question at a time; of those that wait only the newest is answered', async () => {
		const line = fakeTimeLine();
		const forecaster = lineTimekeeper(() => line).forecaster(procedure, history);
		const answers = await Promise.all([1, 2, 3, 4].map((seed) => forecaster.ask(now(), { seed })));
		expect(answers.map((answer) => answer !== null)).toEqual([true, false, false, true]);
		expect(line.asked.filter((call) => call === 'ask')).toHaveLength(2);
	});

	it('says why, when the worker ends, and goes on with a new one and the same history', async () => {
		const lines: ReturnType<typeof fakeTimeLine>[] = [];
		const open = vi.fn(() => (lines.push(fakeTimeLine()), lines.at(-1)!));
		const forecaster = lineTimekeeper(open).forecaster(procedure, history);
		const before = await forecaster.ask(now(), {});
		await new Promise((done) => setTimeout(done));
		const asked = forecaster.ask(now(), {});
		lines[0]!.break();
		await expect(asked).rejects.toThrow('the worker that keeps the time ended: out of memory');
		expect(await forecaster.ask(now(), {})).toEqual(before);
		expect(open).toHaveBeenCalledTimes(2);
	});

	it('refuses what the forecast refuses, with its sentence', async () => {
		const forecaster = lineTimekeeper(fakeTimeLine).forecaster(procedure, [{ ...history[0]!, procedure: 'other' }]);
		await expect(forecaster.ask(now(), {})).rejects.toThrow(/other/);
	});

	it('draws facts from a journal, of a damaged one those before the fault, of none nothing', async () => {
		const keeper = lineTimekeeper(fakeTimeLine);
		const whole = await keeper.factsOf(bytesOf(walked(3)));
		expect(whole).toMatchObject({ run: walked(3).state.run, invented: true, past: { operator: 'Robin (invented)' } });
		const damaged = bytesOf(walked(3));
		damaged[damaged.length - 40] = 0x21;
		const facts = await keeper.factsOf(damaged);
		expect(facts?.past.steps.length).toBeGreaterThan(0);
		expect(facts?.past.steps.length).toBeLessThanOrEqual(whole!.past.steps.length);
		expect(await keeper.factsOf(new TextEncoder().encode('no journal\n'))).toBeNull();
	});
});
