import { describe, expect, it } from 'vitest';
import messages from '../../messages/en.json';
import { benchEdition } from '../../../tests/simulation/bench-edition';
import { Walk } from '../../../tests/simulation/walk';
import { lineOf, seal } from './chain';
import { toCsv } from './csv';
import { attachmentName, exportName } from './file-names';
import { fromJson, toJson } from './json';
import { toMarkdown } from './markdown';
import { readJournal } from './read-journal';
import { reportOf } from './report';
import { english } from './words/english';

const minute = 60_000;

/** A walk with a bit of everything: pause, trouble, undone step, readings, notes, a file, a late statement, hostile words. */
function eventful(): Walk {
	const walk = Walk.begin(benchEdition(), { sample: '=cmd|"x"', project: 'P-7' });
	walk.give({ id: 'next' });
	walk.clock.pass(3 * minute);
	walk.give({ id: 'next' });
	walk.give({ id: 'note', text: '=1+1 | *drift*, "slow"\nsecond line\u0007' });
	walk.give({ id: 'attachment', sha256: 'a'.repeat(64), type: 'image/jpeg', bytes: 9, name: 'x.jpg' });
	walk.give({ id: 'pause' });
	walk.clock.pass(9 * minute);
	walk.give({ id: 'resume' });
	walk.give({ id: 'late', step: 'load/spare', done: '2026-03-02T08:30:00+01:00', words: 'spare in slot two' });
	walk.clock.pass(2 * minute);
	walk.give({ id: 'next' });
	walk.give({ id: 'answer', outcome: 'first' });
	walk.give({ id: 'trouble', trouble: 'power' });
	walk.answer('back');
	walk.give({ id: 'next' });
	walk.give({ id: 'back' });
	walk.give({ id: 'next' });
	walk.read(10);
	return walk;
}
const textOf = (walk: Walk) => walk.events.map((event) => lineOf(event) + '\n').join('');
const journalOf = (walk: Walk) => readJournal(textOf(walk));

/** Cells of RFC 4180 text, read by a parser that knows nothing of the writer. */
function parseCsv(text: string): string[][] {
	const records: string[][] = [[]];
	let [cell, quoted] = ['', false];
	for (let i = 0; i < text.length; i++) {
		const c = text[i]!;
		if (quoted) {
			if (c !== '"') cell += c;
			else if (text[i + 1] === '"') cell += text[++i];
			else quoted = false;
		} else if (c === '"' && cell === '') quoted = true;
		else if (c === ',' || (c === '\r' && text[i + 1] === '\n')) {
			records[records.length - 1]!.push(cell);
			cell = '';
			if (c === '\r') {
				i++;
				records.push([]);
			}
		} else cell += c;
	}
	if (records.pop()!.length) throw new Error('the last record has no CRLF');
	return records;
}

describe('E1 exports of the same journal are byte-identical', () => {
	it.each([['Markdown', toMarkdown], ['CSV', toCsv], ['JSON', toJson]] as const)('%s', (_, make) => {
		expect(make(journalOf(eventful()))).toBe(make(journalOf(eventful())));
		expect(make(journalOf(eventful()))).not.toMatch(/undefined|NaN|\[object/);
	});
});

describe('E2 Markdown', () => {
	const text = toMarkdown(journalOf(eventful()));
	it('has one header block with who, which edition, when, and the chain’s head', () => {
		const walk = eventful();
		const last = walk.events[walk.events.length - 1]!;
		for (const part of ['**Operator:** Robin (invented)', '**Sample:** =cmd\\|"x"', '**Project:** P-7', '**State:** running', `${walk.events.length} events, head ${last.hash}`, '**Began:** 2026-03-02 09:00:00 +01:00'])
			expect(text).toContain(part);
		expect(text).toContain(`> ${english.invented}`);
	});
	it('tells stages planned, actual and paused', () => {
		const report = reportOf(journalOf(eventful()));
		const load = report.stages.find(({ id }) => id === 'load')!;
		expect(load.time).toMatchObject({ pausedMs: 9 * minute + 1000 });
		const row = text.split('\n').find((one) => one.startsWith(`| ${load.title} |`))!;
		expect(row.split(' | ')[3]).toBe('9 min 01 s');
		expect(row).toContain('09:00:00');
	});
	it('tells readings with units, troubles with their way back, notes, what was stated late, what was taken back', () => {
		expect(text).toMatch(/\| width \| 10 \| µm \|/);
		expect(text).toMatch(/power \|.*back to “/);
		expect(text).toContain('=1+1 \\| \\*drift\\*, "slow" second line');
		expect(text).toMatch(/photograph 20260302-\d{6}\\_000\d\d\\_.*\.jpg, 9 B, SHA-256 a{64}/);
		expect(text).toContain('at 2026-03-02T08:30:00+01:00 as stated: spare in slot two');
		expect(text).toContain(english.takenBack);
	});
	it('ends with the usual cautions, the same as the screens show', () => {
		expect(english.cautions).toEqual([messages.caution_no_interlock, messages.caution_rules, messages.caution_trained]);
		for (const caution of english.cautions) expect(text).toContain(caution);
	});
	it('keeps every table row to the width of its header, whatever was written', () => {
		for (const block of text.split('\n\n').filter((one) => one.startsWith('|'))) {
			const widths = block.trim().split('\n').map((row) => row.replace(/\\\|/g, '').split('|').length);
			expect(new Set(widths).size).toBe(1);
		}
	});
	it('says where a broken journal breaks', () => {
		const lines = textOf(eventful()).split('\n');
		const broken = toMarkdown(readJournal([...lines.slice(0, 5), '{}', ''].join('\n')));
		expect(broken).toContain('The record is broken at event 5');
	});
	it('refuses what has no event 0', () => expect(() => toMarkdown(readJournal('{}\n'))).toThrow(/nothing to export/));
});

describe('E3 CSV', () => {
	const walk = eventful();
	const [header, ...records] = parseCsv(toCsv(journalOf(walk)));
	const column = (name: string) => records.map((record) => record[header!.indexOf(name)]!);
	it('has a record for every event, in order, with its stamp and hash', () => {
		expect(column('seq')).toEqual(walk.events.map(({ seq }) => String(seq)));
		expect(column('at')).toEqual(walk.events.map(({ at }) => at));
		expect(column('hash')).toEqual(walk.events.map(({ hash }) => hash));
		expect(new Set(records.map((record) => record.length))).toEqual(new Set([header!.length]));
	});
	it('sums up to the measured time of the run', () => {
		const sum = (name: string) => column(name).reduce((total, value) => total + Number(value), 0);
		const { totals } = reportOf(journalOf(walk));
		expect(sum('elapsed_ms')).toBe(totals.elapsedMs);
		expect(sum('paused_ms')).toBe(totals.pausedMs);
	});
	it('guards what a spreadsheet would reckon, and keeps control characters out', () => {
		const note = column('text').find((text) => text.includes('drift'))!;
		expect(note).toBe("'=1+1 | *drift*, \"slow\" second line ");
	});
	it('marks what was taken back', () => {
		const undone = walk.events.find((event) => event.kind === 'undone')!;
		const named = (undone as Extract<typeof undone, { kind: 'undone' }>).data.events;
		expect(column('taken_back').flatMap((value, i) => (value === 'true' ? [i] : []))).toEqual([...named].sort((a, b) => a - b));
	});
	it('keeps a kind of a later version', () => {
		const last = walk.events[walk.events.length - 1]!;
		const foreign = seal({ kind: 'levitated', data: { height: 3 } } as never, last, { at: last.at, mono: last.mono, boot: last.boot }, { by: 'x', device: 'y', via: 'key' });
		const journal = readJournal(textOf(walk) + lineOf(foreign) + '\n');
		expect(journal.fault).toBeNull();
		const read = parseCsv(toCsv(journal));
		expect(read[read.length - 1]![header!.indexOf('text')]).toBe('{"height":3}');
		expect(toMarkdown(journal)).toContain('“levitated” is not understood by this version');
		expect(fromJson(toJson(journal))).toEqual(journal);
	});
});

describe('E4 JSON', () => {
	it('read back is the same journal, byte for byte', () => {
		const walk = eventful();
		const back = fromJson(toJson(journalOf(walk)));
		expect(back.fault).toBeNull();
		expect(back.events.map((event) => lineOf(event) + '\n').join('')).toBe(textOf(walk));
	});
	it('shows that its end was cut off, and any altered event', () => {
		const text = toJson(journalOf(eventful()));
		const value = JSON.parse(text) as { events: unknown[] };
		const cut = JSON.stringify({ ...value, events: value.events.slice(0, -1) });
		expect(fromJson(cut).fault?.reason).toMatch(/the export says \d+ events/);
		expect(fromJson(text.replace('second line', 'another line')).fault?.reason).toMatch(/altered/);
	});
	it.each([['{', /not JSON/], ['[]', /no exported journal/], ['null', /no exported journal/], ['{"format":"handrail-journal","version":2}', /version 2/], ['{"format":"handrail-journal","version":1}', /no "events"/]])('refuses %s', (text, reason) =>
		expect(() => fromJson(text)).toThrow(reason)
	);
});

describe('E5 names of files sort by time and say what they are', () => {
	it('exports', () => {
		const run = { beganAt: '2026-05-04T08:12:03.123+02:00', procedure: 'Lift-out visit', sample: 'Säge 7/β', run: 'abcdef0123456789abcdef0123456789' };
		expect(exportName(run, 'md')).toBe('20260504-081203_lift-out-visit_sage-7_abcdef01.md');
		expect(exportName({ ...run, sample: '' }, 'csv')).toBe('20260504-081203_lift-out-visit_abcdef01.csv');
	});
	it('photographs and notes', () => {
		const at = (minutes: number, seq: number) => attachmentName({ at: `2026-05-04T08:${minutes}:03.123+02:00`, seq, step: 'lift-out/weld', type: 'audio/webm;codecs=opus' });
		expect(at(12, 7)).toBe('20260504-081203_00007_lift-out-weld.webm');
		expect([at(13, 10), at(12, 9), at(12, 10)].sort()).toEqual([at(12, 9), at(12, 10), at(13, 10)]);
		expect(attachmentName({ at: '2026-05-04T08:12:03.123+02:00', seq: 1, step: null, type: '../../x' })).toBe('20260504-081203_00001.bin');
	});
});
