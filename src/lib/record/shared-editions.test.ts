import { describe, expect, it } from 'vitest';
import { benchEdition } from '../../../tests/simulation/bench-edition';
import { Walk } from '../../../tests/simulation/walk';
import { lineOf, sha256Hex } from './chain';
import { canonical } from './canonical';
import { checkLine, readJournal } from './read-journal';
import { SharedEditions } from './shared-editions';

const textOf = (walk: Walk): string => walk.events.map((event) => `${lineOf(event)}\n`).join('');

describe('editions that many journals share', () => {
	const first = Walk.begin(benchEdition());
	const second = Walk.begin(benchEdition());
	second.next();

	it('J1: the next run of an edition reads as alone, and holds the same object', () => {
		const editions = new SharedEditions();
		const [one, two] = [first, second].map((walk) => readJournal(textOf(walk), editions));
		expect([one, two]).toEqual([first, second].map((walk) => readJournal(textOf(walk))));
		const bodyOf = (read: typeof one) => (read?.events[0]?.kind === 'begun' ? read.events[0].data.edition.body : null);
		expect(bodyOf(two)).toBe(bodyOf(one));
		expect(bodyOf(two)).toEqual(benchEdition());
	});

	it('J5: what is wrong with an event 0 is found as without them, whichever byte was altered', () => {
		const editions = new SharedEditions();
		readJournal(textOf(first), editions);
		const line = lineOf(second.events[0]!);
		const step = 37;
		let found = 0;
		for (let at = 0; at < line.length; at += step) {
			const altered = line.slice(0, at) + String.fromCharCode(line.charCodeAt(at) ^ 1) + line.slice(at + 1);
			const with_ = checkLine(altered, undefined, editions);
			expect(with_).toEqual(checkLine(altered, undefined));
			if (typeof with_ === 'string') found++;
		}
		expect(found).toBe(Math.ceil(line.length / step));
		expect(checkLine(line.replace('{"at"', '{ "at"'), undefined, editions)).toMatch(/canonical/);
	});

	it('a text that names what stands for a known edition is read as it is', () => {
		const editions = new SharedEditions();
		readJournal(textOf(first), editions);
		const mark = `edition:${sha256Hex(canonical(benchEdition()))}`;
		for (const sample of [mark, `"edition":{"body":"${mark}"}`]) {
			const line = canonical({ ...second.events[0], data: { ...(second.events[0]!.data as object), sample } });
			expect(editions.parse(line)).toEqual({ value: JSON.parse(line), canonical: true });
		}
		const posing = canonical({ ...second.events[0], data: { edition: { body: mark } } });
		expect(editions.parse(posing)).toEqual({ value: JSON.parse(posing), canonical: true });
	});
});
