import { describe, expect, it } from 'vitest';
import { benchEdition } from '../../../tests/simulation/bench-edition';
import { Walk } from '../../../tests/simulation/walk';
import { runNow } from './ahead';
import { pastRunOf } from './durations';
import { gapsOf, rowsOf } from './rows';
import { timeByStage, timelineOf, timeNow } from './timeline';

const minute = 60_000;

/** A walk at `look/seen`, with an exact minute in each step before. */
function started(): Walk {
	const walk = Walk.begin(benchEdition());
	walk.betweenMs = minute;
	walk.give({ id: 'next' });
	walk.give({ id: 'next' });
	walk.clock.pass(minute);
	walk.give({ id: 'next' });
	walk.give({ id: 'answer', outcome: 'first' });
	return walk;
}
const rowOf = (walk: Walk, path: string, visit = 1) =>
	rowsOf(timelineOf(walk.events)).find((row) => row.path === path && row.visit === visit && !row.undone);

describe('times', () => {
	it('elapsed by step, stage and run, pauses and holds apart', () => {
		const walk = started();
		walk.give({ id: 'pause' });
		walk.clock.pass(9 * minute);
		walk.give({ id: 'resume' });
		walk.give({ id: 'stop' });
		walk.give({ id: 'parts', parts: { probe: { is: 'out', known: 'seen' } }, why: '' });
		walk.give({ id: 'resume' });
		walk.give({ id: 'next' });
		const timeline = timelineOf(walk.events);
		expect(rowOf(walk, 'look/seen')?.time).toEqual({
			elapsedMs: 3 * minute,
			pausedMs: 10 * minute,
			heldMs: 2 * minute,
			gaps: 0,
			gapWallMs: 0
		});
		expect(timeline.run).toMatchObject({ elapsedMs: 8 * minute, pausedMs: 10 * minute, heldMs: 2 * minute });
		expect(timeByStage(timeline)['load']).toMatchObject({ elapsedMs: 4 * minute });
		expect(timeByStage(timeline)['look']).toMatchObject({ elapsedMs: 4 * minute });
		walk.clock.pass(30_000);
		expect(timeNow(timeline, walk.clock.now())).toMatchObject({
			step: { elapsedMs: 30_000 },
			run: { elapsedMs: 8.5 * minute },
			gap: null
		});
	});

	it('a step that is gone on with after step back is one visit, and what was taken back is told apart', () => {
		const walk = started();
		walk.give({ id: 'next' });
		walk.give({ id: 'back' });
		walk.give({ id: 'next' });
		const rows = rowsOf(timelineOf(walk.events)).filter(
			({ path }) => path.startsWith('look/') && path !== 'look/choose'
		);
		expect(rows.map(({ path, undone, time }) => [path, undone, time.elapsedMs])).toEqual([
			['look/seen', false, 2 * minute],
			['look/measure', true, minute],
			['look/measure', false, 0]
		]);
	});

	it('keeps readings, notes, pictures, troubles and late statements with their visit', () => {
		const walk = started();
		walk.give({ id: 'note', text: 'drifts' });
		walk.give({ id: 'attachment', sha256: 'a'.repeat(64), type: 'image/jpeg', bytes: 9, name: '01.jpg' });
		walk.give({ id: 'late', step: 'load/spare', done: '2026-03-02T08:30:00+01:00', words: 'spare in slot two' });
		walk.give({ id: 'trouble', trouble: 'power' });
		walk.answer('back');
		walk.give({ id: 'next' });
		walk.read(10);
		expect(rowOf(walk, 'look/seen')).toMatchObject({
			end: 'trouble',
			notes: [{ text: 'drifts' }],
			attachments: [{ name: '01.jpg' }],
			troubles: [{ trouble: 'power', undone: false }]
		});
		expect(rowOf(walk, 'load/spare')?.late).toMatchObject([{ words: 'spare in slot two' }]);
		expect(rowOf(walk, 'trouble:power/look')).toMatchObject({ stage: 'look', trouble: 'power' });
		expect(rowOf(walk, 'look/measure')?.readings).toMatchObject([{ reading: 'width', value: 10, undone: false }]);
	});
});

describe('J10: a duration is measured only where both clocks agree', () => {
	it.each([
		['set forward an hour', 60 * minute],
		['set back an hour', -60 * minute]
	])('a clock %s', (_, jumpMs) => {
		const walk = started();
		walk.clock.wall += jumpMs;
		walk.give({ id: 'next' });
		const row = rowOf(walk, 'look/seen');
		expect(row?.time).toEqual({ elapsedMs: 0, pausedMs: 0, heldMs: 0, gaps: 1, gapWallMs: jumpMs + minute });
		expect(row?.gaps).toMatchObject([{ reason: 'clocks', wallMs: jumpMs + minute, monoMs: minute, answer: null }]);
	});

	it('daylight saving changes the offset, not the time', () => {
		const walk = started();
		walk.clock.offsetMin = 120;
		walk.give({ id: 'next' });
		expect(rowOf(walk, 'look/seen')?.time).toMatchObject({ elapsedMs: minute, gaps: 0 });
	});

	it('a sleep in which the monotonic clock stood still looks like a changed clock: not measured, and asked', () => {
		const walk = started();
		walk.clock.wall += 20 * minute;
		expect(timeNow(timelineOf(walk.events), walk.clock.now())).toMatchObject({
			step: { elapsedMs: 0 },
			gap: { wallMs: 20 * minute, monoMs: 0 }
		});
		const fromSeq = walk.state.seq;
		walk.give({ id: 'gap', seq: fromSeq, answer: 'away' });
		expect(gapsOf(timelineOf(walk.events))).toMatchObject([{ fromSeq, reason: 'clocks', answer: 'away' }]);
		expect(timelineOf(walk.events).run.gaps).toBe(1);
	});

	it('a sleep in which both clocks went on is measured', () => {
		const walk = started();
		walk.clock.pass(20 * minute);
		walk.give({ id: 'next' });
		expect(rowOf(walk, 'look/seen')?.time).toMatchObject({ elapsedMs: 21 * minute, gaps: 0 });
	});

	it('a reload: measured until the last sign of life, a gap from there', () => {
		const walk = started();
		walk.clock.pass(3 * minute);
		const last = walk.clock.now();
		walk.clock.reload(10 * minute);
		walk.betweenMs = 0;
		walk.give({ id: 'reopen', last, mended: [] });
		walk.clock.pass(minute);
		walk.give({ id: 'next' });
		expect(rowOf(walk, 'look/seen')?.time).toEqual({
			elapsedMs: 4 * minute,
			pausedMs: 0,
			heldMs: 0,
			gaps: 1,
			gapWallMs: 10 * minute
		});
		expect(gapsOf(timelineOf(walk.events))).toMatchObject([{ reason: 'reopened', wallMs: 10 * minute, monoMs: null }]);
	});

	it('a new boot without a word of it, and another device, are gaps too', () => {
		const walk = started();
		walk.clock.reload(minute);
		walk.give({ id: 'note', text: 'x' });
		walk.device = 'other';
		walk.clock.reload(minute);
		walk.give({ id: 'takePen' });
		expect(gapsOf(timelineOf(walk.events)).map(({ reason }) => reason)).toEqual(['boot', 'device']);
		expect(timelineOf(walk.events).run.elapsedMs).toBe(5 * minute);
	});

	it('a second, and half a thousandth of a long stretch, are drift; more is not', () => {
		const walk = started();
		walk.clock.wall += 1_000;
		walk.give({ id: 'note', text: 'x' });
		walk.clock.wall += 1_031;
		walk.give({ id: 'note', text: 'x' });
		expect(timelineOf(walk.events).run.gaps).toBe(1);
	});
});

describe('what the forecast is given', () => {
	it('a run for its history: visits with times, gaps and interruptions censored, leave-outs and undone ones not', () => {
		const walk = started();
		walk.give({ id: 'trouble', trouble: 'power' });
		walk.answer('back');
		walk.clock.wall += 60 * minute;
		walk.give({ id: 'next' });
		walk.give({ id: 'back' });
		const past = pastRunOf(timelineOf(walk.events));
		expect(past).toMatchObject({ procedure: 'invented', outcome: 'unfinished', operator: 'Robin (invented)' });
		expect(past?.steps).toEqual([
			{ path: 'load/glove', visit: 1, durationMs: minute },
			{ path: 'load/spare', visit: 1, durationMs: minute },
			{ path: 'load/pump', visit: 1, durationMs: 2 * minute },
			{ path: 'look/choose', visit: 1, durationMs: minute },
			{ path: 'look/seen', visit: 1, durationMs: minute, censored: true },
			{ path: 'look/seen', visit: 2, durationMs: 0, censored: true }
		]);
		expect(past?.troubles).toEqual([{ id: 'power', path: 'look/seen', durationMs: minute }]);
	});

	it('the run now: what is done, what runs, what is plainly to come', () => {
		const walk = started();
		walk.give({ id: 'trouble', trouble: 'lost' });
		walk.clock.pass(5_000);
		const now = runNow(timelineOf(walk.events), walk.clock.now());
		expect(now.running).toEqual({ path: 'trouble:lost/search', visit: 1, elapsedMs: 5_000, stage: 'look' });
		expect(now.toCome.map(({ path }) => path)).toEqual([
			'look/seen',
			'look/measure',
			'look/centre',
			'cut/insert',
			'cut/cut',
			'cut/withdraw',
			'thin/thin',
			'unload/vent'
		]);
		walk.give({ id: 'endVisit', sure: true });
		expect(runNow(timelineOf(walk.events), walk.clock.now()).toCome).toEqual([]);
	});
});
