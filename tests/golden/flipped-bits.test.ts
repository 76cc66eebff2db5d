import { describe, expect, it } from 'vitest';
import { lineOf } from '$lib/record/chain';
import { journalText } from '$lib/record/journal-text';
import { readJournal } from '$lib/record/read-journal';
import { sampleJournal, sampleRun } from '../contract/sample-journal';

describe('J5: any flipped bit of a journal file is found', () => {
	const lines = sampleJournal(sampleRun(1), 4).map((event) => `${lineOf(event)}\n`);
	const bytes = new TextEncoder().encode(lines.join(''));
	const starts = lines.map((_, i) => new TextEncoder().encode(lines.slice(0, i).join('')).length);

	it(`all ${bytes.length * 8} of a small journal, each at the event that it stands in or the one after`, () => {
		expect(readJournal(journalText(bytes)).fault).toBeNull();
		for (let at = 0; at < bytes.length; at++) {
			const line = starts.findLastIndex((start) => start <= at);
			for (let bit = 0; bit < 8; bit++) {
				const flipped = Uint8Array.from(bytes);
				flipped[at] = (flipped[at] ?? 0) ^ (1 << bit);
				const { fault, events } = readJournal(journalText(flipped));
				if (!fault) throw new Error(`bit ${bit} of byte ${at} was flipped and not found`);
				expect(fault.seq).toBe(line);
				expect(events).toHaveLength(line);
			}
		}
	});

	it('and any byte that is missing', () => {
		for (let at = 0; at < bytes.length; at++) {
			const without = Uint8Array.from([...bytes.slice(0, at), ...bytes.slice(at + 1)]);
			expect(readJournal(journalText(without)).fault).not.toBeNull();
		}
	});
});
