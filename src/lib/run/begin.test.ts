import { describe, expect, it } from 'vitest';
import { benchEdition } from '../../../tests/simulation/bench-edition';
import { Walk } from '../../../tests/simulation/walk';
import { type Beginning, beginRun, leftBehind, proposedParts } from './begin';

const edition = benchEdition();
const given: Beginning = {
	edition,
	editionHash: 'e'.repeat(64),
	key: null,
	person: 'Robin (invented)',
	left: null,
	stated: {},
	zone: 'UTC'
};
const seen = (is: string) => ({ is, known: 'seen' as const });
const all = { probe: seen('out'), lock: seen('vented'), piece: seen('whole'), chosen: seen('none') };

describe('beginning a run', () => {
	it('asks for every part of which nothing is known, with the conditions a run may begin from', () => {
		expect(beginRun(given).missing).toEqual([
			{ key: 'partUnknown', part: 'probe', choices: ['out'] },
			{ key: 'partUnknown', part: 'lock', choices: ['vented'] },
			{ key: 'partUnknown', part: 'piece', choices: ['whole'] },
			{ key: 'partUnknown', part: 'chosen', choices: ['none'] },
			{
				key: 'invariant',
				invariant: 'vent',
				unmet: [
					{
						any: [
							{ part: 'lock', is: ['pumped'] },
							{ part: 'probe', is: ['out', 'unknown'] }
						]
					}
				]
			}
		]);
	});

	it('carries over what the last run left, with its head, and says how each part is known', () => {
		const walk = Walk.begin(edition);
		const left = leftBehind(walk.state, 'h'.repeat(64));
		const begun = beginRun({ ...given, left, stated: { probe: seen('out') } });
		expect(begun.drafts?.[0]).toMatchObject({
			kind: 'begun',
			data: {
				after: 'h'.repeat(64),
				parts: { probe: seen('out'), lock: { is: 'vented', known: 'carried over' } },
				settings: { slots: 'one' }
			}
		});
	});

	it('R26: asks what happened where a part is seen otherwise than it was left, and keeps the answer', () => {
		const left = { parts: { probe: 'out', lock: 'pumped', piece: 'whole', chosen: 'none' }, head: 'h' };
		const missing = beginRun({ ...given, left, stated: { lock: seen('vented') } }).missing;
		expect(missing).toEqual([{ key: 'contradiction', part: 'lock', left: 'pumped', seen: 'vented' }]);
		const begun = beginRun({
			...given,
			left,
			stated: { lock: seen('vented') },
			explained: { lock: 'staff vented it' }
		});
		expect(begun.drafts?.map(({ kind }) => kind)).toEqual(['begun', 'choice', 'stepEntered']);
	});

	it('R26: after a visit walked to its end, what every visit begins anew is no contradiction; after an aborted one it is', () => {
		const parts = { probe: 'out', lock: 'pumped', piece: 'whole', chosen: 'none' };
		const asked = (complete: boolean) =>
			beginRun({ ...given, left: { parts, head: 'h', complete }, stated: { lock: seen('vented') } }).missing ?? [];
		const onlyStart = edition.parts.find(({ id }) => id === 'lock')?.start;
		expect(onlyStart).toEqual(['vented']);
		expect(asked(true)).toEqual([]);
		expect(asked(false)).toMatchObject([{ key: 'contradiction', part: 'lock' }]);
	});

	it('a part that was lost sight of is asked, not carried over', () => {
		expect(proposedParts(edition, { parts: { probe: 'unknown' }, head: '' }, {})['probe']).toBeNull();
	});

	it('R16: begins in the middle where the requirement and the invariants hold', () => {
		expect(beginRun({ ...given, stated: all, at: 'cut/cut' }).missing).toEqual([
			{ key: 'requirement', step: 'cut/cut', unmet: [{ part: 'probe', is: ['in'] }] }
		]);
		const begun = beginRun({ ...given, stated: { ...all, probe: seen('in'), lock: seen('pumped') }, at: 'cut/cut' });
		expect(begun.drafts?.[1]).toEqual({ kind: 'stepEntered', data: { step: 'cut/cut' } });
	});

	it('a visit does not begin at its start from a condition that belongs to its middle', () => {
		expect(beginRun({ ...given, stated: { ...all, lock: seen('pumped') } }).missing).toEqual([
			{ key: 'partNotReady', part: 'lock', is: 'pumped', choices: ['vented'] }
		]);
	});

	it('refuses a setting that is none, a step that there is not, and nobody', () => {
		const missing = beginRun({
			...given,
			stated: all,
			person: ' ',
			settings: { slots: 'nine' },
			at: 'no/where'
		}).missing;
		expect(missing?.map(({ key }) => key)).toEqual(['noPerson', 'setting', 'noSuchStep']);
	});
});
