import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { hashedForm } from '$lib/record/chain';
import { journalText } from '$lib/record/journal-text';
import { readJournal } from '$lib/record/read-journal';
import { KINDS } from '$lib/run/events';
import { foldAll } from '$lib/run/fold';
import { gapsOf, rowsOf } from '$lib/run/rows';
import { timelineOf } from '$lib/run/timeline';
import { merkleRoot } from './merkle';

/**
 * The frozen journal of every kind, written once by write-every-kind.ts on 2026-11-26 and never again. What is expected
 * of it was worked out by hand from the commands there.
 */
const bytes = readFileSync(new URL('./every-kind.journal.jsonl', import.meta.url));
const { events, fault } = readJournal(journalText(bytes));

describe('the frozen journal', () => {
	it('J9: opens, and its chain is sound', () => {
		expect(fault).toBeNull();
		expect(events).toHaveLength(75);
	});

	it('J8: holds every kind of this version and one of a later one', () => {
		expect([...new Set(events.map(({ kind }) => kind as string))].sort()).toEqual([...KINDS, 'weather'].sort());
	});

	it('J7 R1: folds to the state that its commands led to', () => {
		expect(foldAll(events)).toMatchObject({
			status: 'complete',
			closed: true,
			seq: 74,
			step: 'unload/vent',
			parts: { probe: 'out', lock: 'vented', piece: 'free', chosen: 'two' },
			known: { probe: 'by step', lock: 'by step', piece: 'by step', chosen: 'by step' },
			person: 'Robin (invented)',
			supervisor: null,
			sample: 'S-2 (invented)',
			booking: { end: '2026-03-02T12:30:00.000+01:00' },
			pen: { device: 'other tablet (invented)', givenTo: null },
			clockOffsetMs: -1500,
			ending: false,
			frames: null,
			foreign: { weather: 1 },
			contradictions: {
				seq: 73,
				kind: 'aborted',
				key: 'notInThisState',
				count: 2,
				next: { kind: 'undone', key: 'notNewest', next: null }
			}
		});
	});

	it("its chain's end names head, count and RFC 9162 root of what stands before it", () => {
		const closed = events[74];
		const before = events.slice(0, 74);
		expect(closed?.data).toEqual({
			head: before[73]?.hash,
			count: 74,
			root: merkleRoot(before.map(hashedForm)),
			signature: null
		});
	});

	it('J10: its times: one gap from the reload, answered, and one to the other tablet, not yet', () => {
		const timeline = timelineOf(events);
		expect(gapsOf(timeline)).toMatchObject([
			{ reason: 'reopened', wallMs: 192_345, monoMs: null, answer: 'away' },
			{ reason: 'device', wallMs: 32_345, answer: null }
		]);
		const rows = rowsOf(timeline);
		expect(rows.filter(({ undone }) => undone).map(({ path }) => path)).toEqual(['look/measure', 'cut/withdraw']);
		expect(rows.find(({ path }) => path === 'load/spare')).toMatchObject({
			end: 'left out',
			reason: 'no spare today',
			late: [{ words: 'a spare was put in before the walk' }]
		});
		expect(
			rows
				.filter(({ path }) => path === 'look/centre')
				.flatMap(({ readings }) => readings.map(({ value, round }) => [value, round]))
		).toEqual([
			[9, 1],
			[3, 1],
			[5, 2],
			[4.5, 2]
		]);
	});
});
