import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { toJson } from '$lib/record/json';
import { readJournal } from '$lib/record/read-journal';
import { readFile } from './reading-files';

const text = readFileSync('tests/golden/every-kind.journal.jsonl', 'utf8');
const bytes = (content: string) => new TextEncoder().encode(content).buffer as ArrayBuffer;

describe('a journal from a file', () => {
	it('is read from JSON Lines and from our own JSON, the same events', async () => {
		const lines = await readFile(bytes(text));
		const json = await readFile(bytes(toJson(readJournal(text))));
		expect(lines.length).toBeGreaterThan(30);
		expect(json).toEqual(lines);
	});
	it('is refused where its chain breaks, with the event', () =>
		expect(readFile(bytes(text.replace('"mono":', '"mono":1')))).rejects.toThrow(/breaks at event 0/));
	it('is refused where it is something else', async () => {
		await expect(readFile(bytes('hello'))).rejects.toThrow(RangeError);
		await expect(readFile(bytes(''))).rejects.toThrow(RangeError);
		await expect(readFile(new Uint8Array([0xff, 0xfe, 0]).buffer as ArrayBuffer)).rejects.toThrow(/no UTF-8/);
	});
});
