import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { compileProcedure } from '$lib/procedure/compile';
import type { EventData, JournalEvent, Kind, StatedParts } from '$lib/run/events';
import { smallVisit } from '../../../tests/fixtures/small-visit';
import { ledgerOf } from './ledger';
import { rolesOf } from './partRoles';
import { partHistory, type PartHistory } from './partHistory';

/** Invented runs of the small visit, written as bare events: the ledger asks nothing of hashes. */
const edition = smallVisit();

type Step = { [K in Kind]: { kind: K; data: EventData[K] } }[Kind];
const stated = (parts: Record<string, string>): StatedParts =>
	Object.fromEntries(Object.entries(parts).map(([part, is]) => [part, { is, known: 'stated' as const }]));
const fresh = { probe: 'out', stage: 'exchange', tip: 'none', slot1: 'full', beams: 'off', lock: 'vented' };

function run(
	nth: number,
	person: string,
	parts: Record<string, string>,
	steps: readonly Step[],
	at = edition.first
): PartHistory {
	const begun: Step = {
		kind: 'begun',
		data: {
			edition: { id: edition.id, version: '1', hash: 'none', body: edition },
			key: null,
			person,
			supervisor: null,
			sample: `S${nth}`,
			project: 'P',
			booking: null,
			settings: {},
			parts: stated(parts),
			at,
			after: null,
			zone: 'UTC',
			invented: true
		}
	};
	const events = [begun, { kind: 'stepEntered', data: { step: at } } as Step, ...steps].map(
		(step, seq) =>
			({
				...step,
				v: 1,
				run: String(nth).repeat(32),
				seq,
				at: `2031-0${nth}-01T08:${String(seq).padStart(2, '0')}:00.000+00:00`,
				mono: seq * 60_000,
				boot: 'b',
				by: person,
				device: 'd',
				via: 'touch',
				prev: '',
				hash: ''
			}) as unknown as JournalEvent
	);
	const history = partHistory(events);
	if (!history) throw new Error('no genesis');
	return history;
}

/** Walks the plain outcome of each named step, confirming its hazard. */
const walk = (...paths: readonly (string | readonly [string, string])[]): Step[] =>
	paths.flatMap((each, index): Step[] => {
		const [path, outcome] = typeof each === 'string' ? [each, edition.steps[each]!.outcomes[0]!.id] : each;
		const { hazard } = edition.steps[path]!;
		return [
			...(index === 0 ? [] : [{ kind: 'stepEntered', data: { step: path } } as Step]),
			...(hazard ? [{ kind: 'confirmed', data: { step: path, signal: hazard.signal, readBack: '' } } as Step] : []),
			{ kind: 'outcome', data: { step: path, outcome } }
		];
	});

const toGrip = ['load/pump', 'load/beams', 'pick/go', 'pick/insert', 'pick/grip'] as const;
const home = [
	'pick/withdraw',
	'lift/go',
	'lift/look',
	'return/go',
	'return/insert',
	'return/release',
	'return/withdraw',
	'unload/beams',
	'unload/go',
	'unload/vent'
] as const;

describe('the ledger of parts', () => {
	it('LG1 follows a tip from its slot to the probe and back, with who used it', () => {
		const { tips, where } = ledgerOf([run(1, 'Ada', fresh, walk(...toGrip, ...home))]);
		expect(tips).toHaveLength(1);
		expect(tips[0]).toMatchObject({
			slot: 'slot1',
			now: 'in slot',
			retired: null,
			uses: [{ by: 'Ada' }],
			id: 'slot1-11111111-0'
		});
		expect(where['lock']).toMatchObject({ is: 'vented', by: 'Ada' });
	});
	it('LG2 shows what the last visit left on the probe, and since when', () => {
		const { tips, where } = ledgerOf([run(1, 'Ada', fresh, walk(...toGrip))]);
		expect(where['tip']).toMatchObject({ is: 'slot1', by: 'Ada', known: 'by step' });
		expect(tips[0]).toMatchObject({ now: 'on probe' });
		expect(tips[0]!.since).toBe(where['tip']!.since);
	});
	it('LG3 a run that finds things as they were left touches nothing and is no new use', () => {
		const first = run(1, 'Ada', fresh, walk(...toGrip));
		const second = run(
			2,
			'Bo',
			{ ...fresh, probe: 'in', stage: 'slot', tip: 'slot1', slot1: 'empty', beams: 'on', lock: 'pumped' },
			[],
			'pick/withdraw'
		);
		const { tips, where, contradictions } = ledgerOf([second, first]);
		expect(contradictions).toEqual([]);
		expect(where['tip']).toMatchObject({ by: 'Ada', known: 'stated' });
		expect(tips).toHaveLength(1);
		expect(tips[0]!.uses).toHaveLength(1);
	});
	it('LG4 tells a beginning that contradicts what was left, and whether it was explained', () => {
		const first = run(1, 'Ada', fresh, walk(...toGrip));
		const second = run(2, 'Bo', { ...fresh, slot1: 'empty' }, [
			{ kind: 'choice', data: { ask: 'contradiction', about: 'tip', answer: 'It fell off at the bench.' } }
		]);
		const ledger = ledgerOf([first, second]);
		const about = Object.fromEntries(ledger.contradictions.map((each) => [each.part, each]));
		expect(about['tip']).toMatchObject({
			left: 'slot1',
			leftBy: 'Ada',
			seen: 'none',
			resolved: 'It fell off at the bench.'
		});
		expect(about['lock']).toMatchObject({ left: 'pumped', seen: 'vented', resolved: null });
		expect(ledger.tips[0]).toMatchObject({ now: 'lost', retired: { by: 'Bo' } });
	});
	it('LG5 a slot that is filled again after a loss holds a new tip', () => {
		const first = run(1, 'Ada', fresh, walk(...toGrip));
		const lost = run(2, 'Bo', { ...fresh, slot1: 'empty' }, []);
		const refilled = run(3, 'Bo', fresh, []);
		const { tips } = ledgerOf([first, lost, refilled]);
		expect(tips.map(({ now, uses }) => [now, uses.length])).toEqual([
			['lost', 1],
			['in slot', 0]
		]);
		expect(new Set(tips.map(({ id }) => id)).size).toBe(2);
	});
	it('LG6 what is undone leaves no use behind', () => {
		const steps = walk(...toGrip);
		const grip = steps.length + 1;
		const { tips, where } = ledgerOf([
			run(1, 'Ada', fresh, [...steps, { kind: 'undone', data: { events: [grip], restores: 'parts' } }])
		]);
		expect(where['tip']!.is).toBe('none');
		expect(tips[0]).toMatchObject({ now: 'in slot', uses: [] });
	});
	it('LG7 the same ledger, however the journals come in, and however often', () => {
		const runs = [
			run(1, 'Ada', fresh, walk(...toGrip, ...home)),
			run(2, 'Bo', fresh, walk(...toGrip)),
			run(3, 'Cy', { ...fresh, slot1: 'empty' }, [])
		];
		expect(ledgerOf([runs[2]!, runs[0]!, runs[1]!])).toEqual(ledgerOf(runs));
	});
	it('LG8 knows the shipped visit’s carrier and slots, though its stage can stand at the grid', () => {
		const read = (name: string) => readFileSync(`procedures/${name}`, 'utf8');
		const made = compileProcedure(read('lift-out-visit.yaml'), 'lift-out-visit.yaml', read);
		if ('faults' in made) throw new Error('the shipped visit does not compile');
		const roles = rolesOf(made.edition);
		expect(roles.carrier).toBe('tip');
		expect(roles.slots).toEqual(['slot-1', 'slot-2', 'slot-3', 'slot-4']);
		expect(roles.lamella).toBe('lamella');
	});
	it('LG9 what every visit begins anew is no contradiction after one walked to its end', () => {
		const first = run(1, 'Ada', fresh, walk(...toGrip));
		const second = run(2, 'Bo', fresh, []);
		const about = (status: PartHistory['status']) => ledgerOf([{ ...first, status }, second]).contradictions.map(({ part }) => part);
		const onlyStart = edition.parts.filter(({ start }) => start.length === 1).map(({ id }) => id);
		expect(about('aborted').filter((part) => onlyStart.includes(part)).length).toBeGreaterThan(0);
		expect(about('complete').filter((part) => onlyStart.includes(part))).toEqual([]);
	});
});
