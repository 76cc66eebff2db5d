import { readFileSync } from 'node:fs';
import { JSDOM } from 'jsdom';
import { validateXML } from 'xmllint-wasm';
import { beforeAll, describe, expect, it } from 'vitest';
import type { ReadJournal } from '$lib/record/read-journal';
import { reportOf } from '$lib/record/report';
import { toXes } from '$lib/record/xes';
import { lifecycleFault } from './lifecycle';
import { everyKind, journalOf, journals, stageLeftOut } from './journals';

const schema = { fileName: 'xes.xsd', contents: readFileSync(new URL('./schemas/xes.xsd', import.meta.url), 'utf8') };
async function textOf(...list: ReadJournal[]): Promise<string> {
	let text = '';
	for await (const chunk of toXes(list)) text += chunk;
	return text;
}
const faults = async (text: string) => (await validateXML({ xml: [{ fileName: 'log.xes', contents: text }], schema: [schema] })).errors.map(({ message }) => message);

interface LogEvent {
	readonly instance: string;
	readonly name: string;
	readonly transition: string;
	readonly at: string;
	readonly takenBack: boolean;
}
/** Events as an XML parser that is not ours reads them. */
function eventsIn(text: string): LogEvent[][] {
	const { document } = new JSDOM(text, { contentType: 'text/xml' }).window;
	return [...document.querySelectorAll('trace')].map((trace) =>
		[...trace.querySelectorAll(':scope > event')].map((event) => {
			const value = (key: string) => [...event.children].find((one) => one.getAttribute('key') === key)?.getAttribute('value') ?? '';
			return { instance: value('concept:instance'), name: value('concept:name'), transition: value('lifecycle:transition'), at: value('time:timestamp'), takenBack: value('taken_back') === 'true' };
		})
	);
}

describe.each(journals())('X10 XES of a run: %s', (_, journal) => {
	let text: string;
	beforeAll(async () => void (text = await textOf(journal)));
	it('is valid by the schema', async () => expect(await faults(text)).toEqual([]));
	it('each instance goes through the standard lifecycle, and all times are UTC', () => {
		const [events = []] = eventsIn(text);
		expect(lifecycleFault(events)).toBeNull();
		expect(events.every(({ at }) => /Z$/.test(at))).toBe(true);
	});
	it('each visit that ended has one end: complete where it was answered and stands, an abort elsewhere', () => {
		const [events = []] = eventsIn(text);
		for (const row of reportOf(journal).rows) {
			const mine = events.filter(({ instance }) => instance === `${row.path} ${row.seq}`).map(({ transition }) => transition);
			expect(mine[0]).toBe('start');
			const final = mine.filter((transition) => !['start', 'suspend', 'resume'].includes(transition));
			const wanted = row.undone ? ['ate_abort'] : row.end === null ? [] : row.end === 'outcome' ? ['complete'] : [expect.stringMatching(/abort|complete/)];
			expect(final, `${row.path} ${row.seq}`).toEqual(wanted);
		}
	});
	it('has unique keys in each component, and the same bytes each time', async () => {
		const { document } = new JSDOM(text, { contentType: 'text/xml' }).window;
		for (const component of document.querySelectorAll('event, trace, log')) {
			const keys = [...component.children].flatMap((one) => one.getAttribute('key') ?? []);
			expect(new Set(keys).size).toBe(keys.length);
		}
		expect(await textOf(journal)).toBe(text);
	});
});

describe('X10 what an event log tells', () => {
	it('the frozen run by hand: a step taken back, pause and hold as suspend and resume', async () => {
		const [events = []] = eventsIn(await textOf(everyKind()));
		const count = (transition: string) => events.filter((event) => event.transition === transition).length;
		// by the commands of tests/golden/write-every-kind.ts: paused once, held by "stop", held when reopened
		expect(count('suspend')).toBeGreaterThanOrEqual(2);
		expect(count('resume')).toBeGreaterThanOrEqual(2);
		expect(events.filter(({ takenBack }) => takenBack).map(({ transition }) => transition)).toContain('ate_abort');
	});
	it('a left-out stage: the step at which it was left out is aborted, those never begun are skipped', async () => {
		const [events = []] = eventsIn(await textOf(journalOf(stageLeftOut())));
		expect(events.slice(-4).map(({ instance, transition }) => [instance.split(' ')[0], transition])).toEqual([
			['thin/thin', 'start'], ['thin/thin', 'ate_abort'], ['thin/polish', 'manualskip'], ['unload/vent', 'start']
		]);
	});
	it('many runs are many traces of one valid log', async () => {
		const list = journals().map(([, journal]) => journal);
		const text = await textOf(...list);
		expect(await faults(text)).toEqual([]);
		expect(eventsIn(text)).toHaveLength(list.length);
	});
	it('the schema bites: a transition without its key is found', async () => {
		expect(await faults((await textOf(everyKind())).replace(' key="org:resource"', ''))).not.toEqual([]);
	});
});
