import { readFileSync } from 'node:fs';
import { isDeepStrictEqual } from 'node:util';
import { describe, expect, it } from 'vitest';
import { transition } from 'xstate';
import { benchEdition } from '../../../tests/simulation/bench-edition';
import { Walk } from '../../../tests/simulation/walk';
import { readJournal } from '$lib/record/read-journal';
import { allowed } from './allowed';
import { type Draft, type ForeignEvent, type JournalEvent, KINDS } from './events';
import { emptyState, fold, foldAll } from './fold';
import { type ChartEvent, machine } from './machine';
import type { RunState, RunStatus } from './state';

describe('fold', () => {
	it('R1: one more event equals all anew', () => {
		const walk = Walk.begin(benchEdition());
		walk.next();
		walk.give({ id: 'skip', reason: 'none' });
		walk.give({ id: 'back' });
		walk.give({ id: 'trouble', trouble: 'power' });
		expect(foldAll(walk.events)).toEqual(walk.state);
		expect(emptyState.seq).toBe(-1);
	});

	it('R1: is xstate’s own transition of the chart, for events of every kind in every status and all along the frozen run', () => {
		const byXstate = (state: RunState, event: JournalEvent | ForeignEvent): RunState => {
			const type = (KINDS as readonly string[]).includes(event.kind) ? event.kind : 'foreign';
			const standing = machine.resolveState({ value: state.status, context: state });
			const [after] = transition(machine, standing, { type, event } as ChartEvent);
			return { ...after.context, status: after.value as RunStatus, seq: event.seq };
		};
		const text = readFileSync(new URL('../../../tests/golden/every-kind.journal.jsonl', import.meta.url), 'utf8');
		const { events } = readJournal(text);
		const kinds = new Map([...events, { ...events[1]!, kind: 'weather', data: {} }].map((event) => [event.kind as string, event]));
		const states = [emptyState];
		for (const event of events) states.push(fold(states.at(-1)!, event));
		const statuses = (['idle', 'running', 'paused', 'held', 'complete', 'aborted'] as const).map((status) => ({ ...states.at(-1)!, status }));
		expect(kinds.size).toBe(KINDS.length + 1);
		let taken = 0;
		for (const state of [...states.filter((_, i) => i % 3 === 0), ...statuses])
			for (const event of kinds.values()) {
				const after = fold(state, event as JournalEvent);
				// many large states: vitest's own comparison takes seconds over them
				if (!isDeepStrictEqual(after, byXstate(state, event as JournalEvent))) expect(after).toEqual(byXstate(state, event as JournalEvent));
				if (after.contradictions === state.contradictions) taken++;
			}
		expect(taken).toBeGreaterThan(states.length);
	});

	it('J7: an unknown kind is counted and changes nothing else', () => {
		const walk = Walk.begin(benchEdition());
		const before = walk.state;
		const foreign: ForeignEvent = {
			...(walk.events[1] as ForeignEvent),
			seq: 2,
			kind: 'weather',
			data: { rain: true }
		};
		const after = fold(fold(before, foreign), { ...foreign, seq: 3 });
		expect(after).toEqual({ ...before, seq: 3, foreign: { weather: 2 } });
	});

	const cases: [string, Draft, string][] = [
		['an answer in another step', { kind: 'outcome', data: { step: 'look/seen', outcome: 'seen' } }, 'elsewhere'],
		[
			'an answer that the step does not have',
			{ kind: 'outcome', data: { step: 'load/glove', outcome: 'broken' } },
			'noSuchOutcome'
		],
		['a step that is not due', { kind: 'stepEntered', data: { step: 'look/seen' } }, 'notDue'],
		['a step that there is not', { kind: 'stepEntered', data: { step: 'nowhere' } }, 'noSuchStep'],
		[
			'a trouble that there is not',
			{ kind: 'trouble', data: { trouble: 'rain', step: 'load/glove' } },
			'noSuchTrouble'
		],
		['a way back from no trouble', { kind: 'wayBack', data: { trouble: 'lost', to: 'load/glove' } }, 'noWayBack'],
		['an end that is not reached', { kind: 'completed', data: {} }, 'endNotReached'],
		[
			'a reading that is not asked for',
			{
				kind: 'reading',
				data: {
					step: 'load/glove',
					reading: 'width',
					value: 1,
					unit: 'µm',
					uncertainty: null,
					raw: '1',
					confirmed: true,
					round: 1
				}
			},
			'noSuchReading'
		],
		[
			'a confirmation of no hazard',
			{ kind: 'confirmed', data: { step: 'load/glove', signal: 'danger', readBack: '' } },
			'nothingToConfirm'
		],
		['leaving out what is not optional', { kind: 'skipped', data: { step: 'load/glove', reason: '' } }, 'notOptional'],
		['going on without having been away', { kind: 'resumed', data: {} }, 'notInThisState'],
		['taking back what was not done', { kind: 'undone', data: { events: [0], restores: 'parts' } }, 'notNewest'],
		[
			'a part that there is not',
			{ kind: 'partsStated', data: { parts: { door: { is: 'open', known: 'seen' } }, why: '' } },
			'noSuchCondition'
		],
		[
			'the end of the chain before the end of the run',
			{ kind: 'closed', data: { head: '', count: 2, root: '', signature: null } },
			'notInThisState'
		]
	];
	it.each(cases)('R21: sound by hash but impossible: %s is told and left out, and the fold goes on', (_, draft, key) => {
		const walk = Walk.begin(benchEdition());
		const before = walk.state;
		walk.write([draft]);
		expect(walk.state.contradictions).toMatchObject({ seq: 2, kind: draft.kind, key, count: 1, next: null });
		expect({ ...walk.state, seq: before.seq, contradictions: null }).toEqual(before);
		walk.next();
		expect(walk.state.step).toBe('load/spare');
	});

	it('R2: going on from hold without the parts is a contradiction', () => {
		const walk = Walk.begin(benchEdition());
		walk.give({ id: 'stop' });
		walk.write([{ kind: 'resumed', data: {} }]);
		expect(walk.state).toMatchObject({ status: 'held', contradictions: { key: 'partsNotStated' } });
	});

	it('R18: what a device without the pen wrote is a contradiction', () => {
		const walk = Walk.begin(benchEdition());
		walk.device = 'other';
		walk.write([{ kind: 'note', data: { text: 'x' } }]);
		expect(walk.state.contradictions).toMatchObject({ key: 'withoutPen', params: { device: 'other' } });
	});

	describe('R27: behind the end of the chain', () => {
		const closing: Draft = { kind: 'closed', data: { head: '', count: 5, root: '', signature: null } };
		const ended = () => {
			const walk = Walk.begin(benchEdition());
			walk.sure({ id: 'endVisit' });
			expect(walk.state.status).toBe('aborted');
			walk.write([closing]);
			expect(walk.state).toMatchObject({ closed: true, contradictions: null });
			return walk;
		};
		it('a fact or correction opens it until it is closed anew', () => {
			const walk = ended();
			expect(allowed(walk.state).map(({ id }) => id)).toEqual(['note', 'late', 'details']);
			walk.give({ id: 'correct', event: 1, field: 'text', was: 'a', is: 'b', why: 'misheard' });
			expect(walk.state).toMatchObject({ status: 'aborted', closed: false, contradictions: null });
			walk.write([closing]);
			expect(walk.state).toMatchObject({ closed: true, contradictions: null });
		});
		it('nothing moves the walk, and what cannot follow or is not understood opens it all the same', () => {
			for (const draft of [{ kind: 'outcome', data: { step: 'load/glove', outcome: 'done' } }, { kind: 'weather', data: {} }]) {
				const walk = ended();
				const { step, parts } = walk.state;
				walk.write([draft as Draft]);
				expect(walk.state).toMatchObject({ status: 'aborted', step, parts, closed: false });
			}
		});
		it('closing twice with nothing between is a contradiction', () => {
			const walk = ended();
			walk.write([closing]);
			expect(walk.state.contradictions).toMatchObject({ kind: 'closed', count: 1 });
		});
	});

	it('R1: history is shared, not copied: what stood before stands in the state after as the same object', () => {
		const walk = Walk.begin(benchEdition());
		walk.next();
		const before = walk.state;
		walk.give({ id: 'skip', reason: 'none' });
		expect(walk.state.undo?.next).toBe(before.undo);
		expect(walk.state.undo?.before.parts).toBe(before.parts);
		expect(walk.state.edition).toBe(before.edition);
	});
});
