import { flushSync } from 'svelte';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { SimulatedClock } from '$lib/adapters/clock/simulated-clock';
import { memoryStore } from '$lib/adapters/memory/memory-store';
import { lineTimekeeper } from '$lib/adapters/timekeeper/line-timekeeper';
import type { Draft, JournalEvent } from '$lib/run/events';
import { beforeGenesis, seal } from '$lib/record/chain';
import type { ReturnWarning } from '$lib/timing/return-warning';
import { type FakeTimeLine, fakeTimeLine } from '../../../tests/fixtures/fake-time-line';
import { smallVisit } from '../../../tests/fixtures/small-visit';
import { Walk as Played } from '../../../tests/simulation/walk';
import { createForecasting, type Forecasting } from './forecasting.svelte';
import { openWalk, type Walk } from './walk.svelte';

const START = Date.UTC(2026, 2, 2, 8);
const HOUR = 3_600_000;

/** A past run of the same small visit under an id of its own. */
function pastRun(id: string, person: string, invented: boolean): JournalEvent[] {
	const played = Played.begin(smallVisit(), { person, invented });
	played.betweenMs = 90_000;
	for (let i = 0; i < 40 && played.state.status === 'running'; i++) played.next();
	expect(played.state.status).toBe('complete');
	let head = beforeGenesis(id);
	return played.events.map(({ kind, data, at, mono, boot, by, device, via }) => {
		const event = seal({ kind, data } as Draft, head, { at, mono, boot }, { by, device, via });
		head = { run: id, seq: event.seq, hash: event.hash };
		return event;
	});
}

async function bench(past: readonly (readonly JournalEvent[])[], bookingEndMs: number | null) {
	const store = memoryStore();
	for (const events of past) await store.bring(events);
	const clock = new SimulatedClock({ wallMs: START, offsetMin: 60 });
	const played = Played.begin(smallVisit(), { person: 'Ada (invented)', invented: false, ...(bookingEndMs === null ? {} : { booking: { end: new Date(START + bookingEndMs).toISOString() } }) });
	await store.bring(played.events);
	const locks = { lock: vi.spyOn(store, 'lock'), open: vi.spyOn(store, 'open') };
	const kept = new Map<string, unknown>();
	const lines: FakeTimeLine[] = [];
	const device = {
		store,
		clock,
		settings: { load: async <T>(key: string) => kept.get(key) as T | undefined, save: async (key: string, value: unknown) => void kept.set(key, structuredClone(value)) },
		timekeeper: lineTimekeeper(() => (lines.push(fakeTimeLine()), lines.at(-1)!))
	};
	const { walk } = await openWalk(played.state.run, { store, clock, device: 'tablet (invented)', signer: null, onanswer: () => {} });
	locks.lock.mockClear();
	locks.open.mockClear();
	return { device, walk, clock, locks, lines, kept };
}

let forecasting: Forecasting | undefined;
afterEach(() => forecasting?.close());
const begin = (walk: Walk, device: Parameters<typeof createForecasting>[1], onwarn: (warning: ReturnWarning) => void = () => {}) => (forecasting = createForecasting(walk, device, onwarn));
const settled = (ready: () => boolean) => vi.waitFor(() => { flushSync(); expect(ready()).toBe(true); });

/** A few seconds of a run's clock, with time for the answers to come. */
async function seconds(it: Forecasting, clock: SimulatedClock): Promise<void> {
	for (let second = 0; second < 20; second++) {
		it.tick();
		clock.advance(1000);
		await new Promise((done) => setTimeout(done, 10));
	}
}

describe('the forecast of the walk', () => {
	it('F1 shows planned times at once, and the full forecast with own and others’ runs when the history is read', async () => {
		const { device, walk } = await bench([pastRun('a'.repeat(32), 'Ada (invented)', false), pastRun('b'.repeat(32), 'Bo (invented)', false)], null);
		const it = begin(walk, device);
		expect(it.forecast?.basis.kind).toBe('plan');
		await settled(() => it.forecast?.basis.kind === 'own');
		expect(it.forecast?.basis).toEqual({ kind: 'own', ownRuns: 1, groupRuns: 2 });
	});
	it('F2 leaves invented runs out of it', async () => {
		const { device, walk, lines } = await bench([pastRun('c'.repeat(32), 'Ada (invented)', true)], null);
		const it = begin(walk, device);
		await settled(() => lines[0]?.asked.includes('ask') ?? false);
		await settled(() => (it.forecast?.leftMs.length ?? 0) > 0);
		expect(it.forecast?.basis).toEqual({ kind: 'plan', ownRuns: 0, groupRuns: 0 });
	});
	it('F3 reads each journal once, takes no lock, and never opens a run', async () => {
		const { device, walk, locks, lines, kept } = await bench([pastRun('d'.repeat(32), 'Ada (invented)', false)], null);
		const it = begin(walk, device);
		await settled(() => it.forecast?.basis.kind === 'own');
		it.close();
		const again = begin(walk, device);
		await settled(() => again.forecast?.basis.kind === 'own');
		expect([locks.lock.mock.calls, locks.open.mock.calls]).toEqual([[], []]);
		expect(lines[0]?.asked.filter((call) => call === 'factsOf')).toHaveLength(1);
		expect(kept.has('run-facts')).toBe(true);
	});
	it('F4 moves with the clock, and stands on planned times with the reason told while its worker is gone', async () => {
		const { device, walk, clock, lines } = await bench([pastRun('e'.repeat(32), 'Ada (invented)', false)], null);
		const it = begin(walk, device);
		await settled(() => it.forecast?.basis.kind === 'own');
		const before = it.forecast;
		clock.advance(30_000);
		it.tick();
		clock.advance(1);
		await settled(() => it.forecast !== before);
		it.tick();
		clock.advance(1);
		lines[0]?.break();
		await settled(() => it.fault !== null);
		expect(it.fault).toContain('out of memory');
		expect(it.forecast?.basis.kind).toBe('plan');
		it.tick();
		clock.advance(1);
		await settled(() => it.fault === null && it.forecast?.basis.kind === 'own');
	});
	it('F7 warns once ahead of the latest start of the return, and anew when the booking is moved', async () => {
		const { device, walk, clock } = await bench([], 1 * HOUR);
		const heard: ReturnWarning[] = [];
		const it = begin(walk, device, (warning) => heard.push(warning));
		for (let minute = 0; minute < 60; minute++) {
			clock.advance(60_000);
			it.tick();
			clock.advance(1);
			await new Promise((done) => setTimeout(done, 4));
		}
		await settled(() => it.warning?.kind === 'near');
		expect(heard.map(({ kind }) => kind).filter((kind) => kind === 'near')).toHaveLength(1);
		expect(heard.length).toBeLessThanOrEqual(2);
		const before = heard.length;
		await walk.give({ id: 'booking', end: new Date(clock.wallMs() + 5 * 60_000).toISOString() }, { via: 'key' });
		it.tick();
		clock.advance(1);
		await settled(() => heard.length > before);
	});
	it('F7 says no warning again after the page was loaded again, in this run; another run is warned on its own', async () => {
		const { device, walk, clock, kept } = await bench([], 10 * 60_000);
		const first: ReturnWarning[] = [];
		await seconds(begin(walk, device, (warning) => first.push(warning)), clock);
		expect(first).toHaveLength(1);
		forecasting?.close();
		const again: ReturnWarning[] = [];
		const it = begin(walk, device, (warning) => again.push(warning));
		await seconds(it, clock);
		expect(again).toEqual([]);
		expect(it.warning?.kind).toBe('near');
		expect(Object.keys(kept.get('warned') as object)).toEqual([walk.run]);
		it.close();
		const other: ReturnWarning[] = [];
		await seconds(begin(Object.create(walk, { run: { value: 'f'.repeat(32) } }) as Walk, device, (warning) => other.push(warning)), clock);
		expect(other).toHaveLength(1);
	});
	it('F7 warns even where the device keeps nothing, once, and tells why nothing is kept', async () => {
		const { device, walk, clock } = await bench([], 10 * 60_000);
		const heard: ReturnWarning[] = [];
		const full = { load: async () => undefined, save: () => Promise.reject(new Error('the disk is full (invented)')) };
		const it = begin(walk, { ...device, settings: full }, (warning) => heard.push(warning));
		await seconds(it, clock);
		await settled(() => it.notKept === 'the disk is full (invented)');
		await seconds(it, clock);
		expect(heard).toHaveLength(1);
	});
});
