import { benchEdition } from '../simulation/bench-edition';
import { Walk } from '../simulation/walk';
import { lineOf } from '$lib/record/chain';
import { readJournal } from '$lib/record/read-journal';
import type { JournalEvent } from '$lib/run/events';
import { fold, foldAll } from '$lib/run/fold';
import { foldTimeline, type Timeline, timelineOf } from '$lib/run/timeline';
import { decide } from '$lib/run/decide';
import type { Figure } from './figure';

const source = 'own clock (performance.now) over an invented run of all common kinds, made by tests/simulation/walk.ts';

/** A run of about `count` events: answers, step back, notes, pauses, troubles and ways back. */
function longRun(count: number): readonly JournalEvent[] {
	const walk = Walk.begin(benchEdition());
	walk.next();
	walk.next();
	walk.next();
	walk.answer('first');
	while (walk.events.length < count) {
		walk.next();
		walk.give({ id: 'back' });
		walk.give({ id: 'note', text: 'drifts a little to the left' });
		walk.give({ id: 'pause' });
		walk.give({ id: 'resume' });
		walk.give({ id: 'trouble', trouble: 'power' });
		walk.answer('back');
	}
	return walk.events.slice(0, count);
}

const sorted = (list: readonly number[]): number[] => [...list].sort((a, b) => a - b);
/** Median with its 95 % interval by order statistics (binomial, normal approximation). */
function median(list: readonly number[]): { value: number; interval: [number, number] } {
	const all = sorted(list);
	const half = (1.96 * Math.sqrt(all.length)) / 2;
	const at = (i: number) => all[Math.min(all.length - 1, Math.max(0, Math.round(i)))] ?? 0;
	return {
		value: at((all.length - 1) / 2),
		interval: [at((all.length - 1) / 2 - half), at((all.length - 1) / 2 + half)]
	};
}
const rounded = (n: number, digits = 1) => Number(n.toFixed(digits));

export async function figures(): Promise<Figure[]> {
	const events = longRun(10_000);
	const text = events.map((event) => `${lineOf(event)}\n`).join('');
	const reopen: number[] = [];
	for (let i = 0; i < 11; i++) {
		const begin = performance.now();
		const read = readJournal(text);
		timelineOf(read.events);
		reopen.push(performance.now() - begin);
		if (read.fault) throw new Error(read.fault.reason);
	}
	const reopened = median(reopen.slice(1));
	// one more event, behind short and long runs, in turns so that both see the same machine
	const lengths = [100, 1_000, 10_000] as const;
	const states = lengths.map((length) => timelineOf(events.slice(0, length)));
	const foldMs: number[][] = lengths.map(() => []);
	const timelineMs: number[][] = lengths.map(() => []);
	const decideMs: number[][] = lengths.map(() => []);
	const repeats = 200;
	for (let round = 0; round < 61; round++)
		states.forEach((timeline: Timeline, which) => {
			const { state } = timeline;
			const event = {
				...(events[1] as JournalEvent),
				seq: state.seq + 1,
				kind: 'note' as const,
				data: { text: 'x' }
			} as JournalEvent;
			const begin = performance.now();
			for (let i = 0; i < repeats; i++) fold(state, event);
			const between = performance.now();
			for (let i = 0; i < repeats; i++) foldTimeline(timeline, event, state);
			const then = performance.now();
			for (let i = 0; i < 20; i++)
				decide(
					state,
					{ id: 'pause' },
					{ now: { at: event.at, mono: event.mono, boot: event.boot }, via: 'key', device: state.pen.device }
				);
			const end = performance.now();
			if (round > 0) {
				foldMs[which]?.push((between - begin) / repeats);
				timelineMs[which]?.push((then - between) / repeats);
				decideMs[which]?.push((end - then) / 20);
			}
		});
	const perEvent = (name: string, lists: readonly number[][], goal: string): Figure[] => {
		const medians = lists.map(median);
		const [short, , long] = medians;
		return [
			...medians.map(({ value, interval }, i): Figure => ({
				name: `${name}, behind ${lengths[i]} events`,
				value: rounded(value * 1000),
				unit: 'µs',
				n: lists[i]?.length,
				interval: [rounded(interval[0] * 1000), rounded(interval[1] * 1000)],
				source
			})),
			{
				name: `${name}: behind 10,000 events ÷ behind 100`,
				value: rounded((long?.value ?? 0) / (short?.value ?? 1), 2),
				goal,
				n: lists[0]?.length,
				source: 'ratio of the medians above, measured in turns'
			}
		];
	};
	const foldOnly = median(
		Array.from({ length: 5 }, () => {
			const begin = performance.now();
			foldAll(events);
			return performance.now() - begin;
		})
	);
	return [
		{
			name: 'reopening a run of 10,000 events: reading, verifying the chain, state and times',
			value: rounded(reopened.value),
			unit: 'ms',
			goal: '≤ 1000',
			n: 10,
			interval: [rounded(reopened.interval[0]), rounded(reopened.interval[1])],
			source
		},
		{
			name: 'of which the fold of state alone',
			value: rounded(foldOnly.value),
			unit: 'ms',
			n: 5,
			interval: [rounded(foldOnly.interval[0]), rounded(foldOnly.interval[1])],
			source
		},
		...perEvent('one more event, state', foldMs, 'O(1): ratio about 1'),
		...perEvent('one more event, times', timelineMs, 'O(1): ratio about 1'),
		...perEvent('one decision', decideMs, 'O(1): ratio about 1')
	];
}
