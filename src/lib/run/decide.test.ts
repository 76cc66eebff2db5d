import { describe, expect, it } from 'vitest';
import { benchEdition } from '../../../tests/simulation/bench-edition';
import { Walk } from '../../../tests/simulation/walk';
import { allowed } from './allowed';
import { foldAll } from './fold';

/** A walk that has come to the step by plain answers. */
function at(step: string): Walk {
	const walk = Walk.begin(benchEdition());
	for (let i = 0; walk.state.step !== step && i < 30; i++) {
		const here = walk.state.step;
		if (here === 'look/choose') walk.answer('first');
		else if (here === 'look/measure') for (const value of [10, 5]) walk.read(value);
		else if (here === 'look/centre') for (const value of [5, 5]) walk.read(value);
		else walk.next();
	}
	expect(walk.state.step).toBe(step);
	return walk;
}
const ids = (walk: Walk) => allowed(walk.state).map(({ id }) => id);

describe('walking', () => {
	it('R4 R12: the whole walk ends complete, and each outcome is followed by the step it leads to', () => {
		const walk = at('unload/vent');
		walk.next();
		expect(walk.state.status).toBe('complete');
		expect(walk.state.contradictions).toBeNull();
		const kinds = walk.kinds();
		kinds.forEach((kind, i) => kind === 'outcome' && expect(['stepEntered', 'completed']).toContain(kinds[i + 1]));
	});

	it('R5: next gives no answer where a choice or a reading is wanted', () => {
		expect(at('look/choose').give({ id: 'next' }).ask?.key).toBe('whichAnswer');
		expect(at('look/measure').give({ id: 'next' }).ask).toMatchObject({
			key: 'whichReading',
			params: { reading: 'width' }
		});
	});

	it('R5: the outcome of a reading step follows from its readings', () => {
		const walk = at('look/measure');
		walk.read(13);
		expect(walk.state.step).toBe('look/measure');
		walk.read(5);
		expect(walk.state.step).toBe('look/seen');
		expect(walk.events.findLast(({ kind }) => kind === 'outcome')?.data).toMatchObject({ outcome: 'out' });
	});

	it('R5: the guide alone takes an answer that readings decide; one that is not offered is refused with what is missing', () => {
		expect(at('look/centre').give({ id: 'answer', outcome: 'within' }).refused?.key).toBe('fromReadings');
		const refused = at('look/choose').give({ id: 'answer', outcome: 'second' }).refused;
		expect(refused).toMatchObject({ key: 'notOffered', unmet: [{ setting: 'slots', is: ['two'] }] });
	});

	it('R6: a hazard is confirmed before the step ends', () => {
		const walk = at('cut/insert');
		expect(walk.give({ id: 'next' }).ask).toMatchObject({ key: 'confirmHazard', params: { signal: 'danger' } });
		expect(walk.state.step).toBe('cut/insert');
		walk.give({ id: 'confirm' });
		walk.give({ id: 'next' });
		expect(walk.state.step).toBe('cut/cut');
	});

	it('R6: a spoken "yes" confirms no hazard: it is asked again', () => {
		const walk = at('cut/insert');
		const question = walk.give({ id: 'next' }).ask!;
		walk.via = 'voice';
		expect(walk.give({ id: 'yes' }, question).ask).toEqual(question);
		expect(walk.state.confirmedHazard).toBe(false);
		walk.give({ id: 'confirm' });
		expect(walk.state.confirmedHazard).toBe(true);
	});

	it.each([
		['next', 0],
		['next', 699],
		['next', 700],
		['confirm', 300]
	] as const)('R6: %s %i ms after next counts once', (id, betweenMs) => {
		const walk = at('cut/insert');
		walk.give({ id: 'next' });
		walk.betweenMs = betweenMs;
		expect(walk.give({ id }).refused?.key).toBe('doublePress');
		expect(walk.state.confirmedHazard).toBe(false);
	});

	it('R6: 701 ms after, it counts', () => {
		const walk = at('cut/cut');
		walk.give({ id: 'next' });
		walk.betweenMs = 701;
		walk.give({ id: 'next' });
		expect(walk.state.step).toBe('thin/thin');
	});

	it('R7: an answer that would break an invariant holds the run, is not written, and is named', () => {
		const edition = benchEdition({
			invariants: [{ id: 'whole', words: { en: '' }, always: { part: 'piece', is: ['whole'] } }]
		});
		const walk = Walk.begin(edition, { at: 'cut/insert', stated: { lock: { is: 'pumped', known: 'seen' } } });
		walk.next();
		const decision = walk.give({ id: 'next' });
		expect(decision.told).toMatchObject([{ key: 'heldByInvariant', params: { about: 'whole' } }]);
		expect(walk.state).toMatchObject({ status: 'held', step: 'cut/cut', parts: { piece: 'whole' } });
	});

	it('R13: a wait cut short is asked, and stamped with what was left', () => {
		const walk = at('load/pump');
		walk.clock.pass(29_000);
		expect(walk.give({ id: 'next' }).ask).toMatchObject({ key: 'waitEarly', params: { leftMs: 90_000 } });
		walk.give({ id: 'next', early: true });
		expect(walk.events.findLast(({ kind }) => kind === 'outcome')?.data).toMatchObject({ earlyMs: 89_000 });
	});

	it('R13: a wait over a reload is not measured, and asked', () => {
		const walk = at('load/pump');
		walk.clock.reload(300_000);
		expect(walk.give({ id: 'next' }).ask?.key).toBe('waitNotMeasured');
	});

	it('R20: a step and a stage are left out with a reason', () => {
		const walk = at('load/spare');
		expect(walk.give({ id: 'skip' }).ask?.wants).toBe('reason');
		walk.give({ id: 'skip', reason: 'none here' });
		expect(walk.state.step).toBe('load/pump');
		const later = at('thin/thin');
		expect(later.give({ id: 'skip', reason: 'no time' }).ask?.params['stage']).toBe('thin');
		later.give({ id: 'skip', reason: 'no time', stage: 'thin' });
		expect(later.state.step).toBe('unload/vent');
		expect(later.give({ id: 'skip', reason: 'no time' }).refused?.key).toBe('notOptional');
	});
});

describe('readings', () => {
	it('R15: outside the bounds refused, outside the plausible range questioned before the echo', () => {
		const walk = at('look/measure');
		expect(walk.give({ id: 'digits', value: 101, unit: 'µm', raw: '101' }).refused?.key).toBe('outOfBounds');
		expect(walk.give({ id: 'digits', value: 1, unit: 'nm', raw: '1' }).refused?.key).toBe('otherUnit');
		const question = walk.give({ id: 'digits', value: 21, unit: 'µm', raw: '21' }).ask;
		expect(question?.key).toBe('implausible');
		const echo = walk.give(question?.yes ?? { id: 'no' }).ask;
		expect(echo).toMatchObject({ key: 'echo', params: { value: 21 } });
		expect(walk.state.readings).toEqual({});
		walk.give(echo?.yes ?? { id: 'no' });
		expect(walk.state.readings['width']?.value).toBe(21);
	});

	it('R14: rounds until within; after the allowed rounds beyond', () => {
		const walk = at('look/centre');
		walk.read(10);
		const told = walk.read(2).told ?? [];
		expect(told.map(({ key }) => key)).toContain('moveUntried');
		expect(walk.state).toMatchObject({ step: 'look/centre', readings: {} });
		expect(walk.state.rounds).toHaveLength(1);
		walk.read(5);
		walk.read(4);
		expect(walk.state.step).toBe('cut/insert');
		const far = at('look/centre');
		for (const value of [10, 2, 10, 2, 10, 2]) far.read(value);
		expect(far.state).toMatchObject({ step: 'trouble:lost/search', frames: { trouble: 'lost', from: 'look/centre' } });
	});

	it('R22: step back after the last reading takes reading and outcome back together', () => {
		const walk = at('look/measure');
		walk.read(10);
		walk.read(5);
		expect(walk.state.step).toBe('look/centre');
		walk.give({ id: 'back' });
		expect(walk.state).toMatchObject({ step: 'look/measure', readings: { width: { value: 10 } } });
		expect(Object.keys(walk.state.readings)).toEqual(['width']);
	});
});

describe('back', () => {
	it('R8: names the events it takes back and restores parts, place and readings', () => {
		const walk = at('cut/insert');
		const before = walk.state;
		walk.next();
		expect(walk.state.parts['probe']).toBe('in');
		const undo = walk.state.undo?.events;
		walk.give({ id: 'back' });
		expect(walk.events[walk.events.length - 1]?.data).toEqual({ events: undo, restores: 'parts' });
		expect(walk.state).toMatchObject({ step: 'cut/insert', parts: before.parts, confirmedHazard: true });
		walk.give({ id: 'back' });
		expect(walk.state.confirmedHazard).toBe(false);
	});

	it('R8: behind a final step only the record goes back, and the run is held until the parts are stated', () => {
		const walk = at('cut/withdraw');
		walk.give({ id: 'back' });
		expect(walk.state).toMatchObject({ status: 'held', step: 'cut/cut', parts: { piece: 'free' } });
		expect(ids(walk)).not.toContain('resume');
		expect(walk.give({ id: 'resume' }).ask?.key).toBe('stateParts');
		walk.give({ id: 'parts', parts: { piece: { is: 'free', known: 'seen' } }, why: 'looked' });
		walk.give({ id: 'resume' });
		expect(walk.state.status).toBe('running');
	});

	it('R22: behind a statement of the parts they are asked again', () => {
		const walk = at('cut/cut');
		walk.give({ id: 'parts', parts: { probe: { is: 'in', known: 'seen' } }, why: 'looked' });
		walk.give({ id: 'back' });
		expect(walk.state).toMatchObject({ status: 'held', step: 'cut/insert', parts: { probe: 'in' } });
	});

	it('R8: back again goes further back; what was taken back can be walked again', () => {
		const walk = at('look/measure');
		walk.give({ id: 'back' });
		walk.give({ id: 'back' });
		expect(walk.state.step).toBe('look/choose');
		walk.answer('first');
		expect(walk.state.step).toBe('look/seen');
		expect(foldAll(walk.events)).toEqual(walk.state);
	});

	it('R8 R9: back over a way back and over a call opens and closes the trouble again', () => {
		const walk = at('look/seen');
		walk.give({ id: 'trouble', trouble: 'lost' });
		walk.answer('deeper');
		walk.next();
		expect(walk.state).toMatchObject({ step: 'look/seen', frames: null });
		walk.give({ id: 'back' });
		expect(walk.state).toMatchObject({ step: 'trouble:lost/more', frames: { trouble: 'lost' } });
		walk.give({ id: 'back' });
		walk.give({ id: 'back' });
		expect(walk.state).toMatchObject({ step: 'look/seen', frames: null });
	});

	it('R8: with nothing walked there is nothing to take back', () => {
		expect(Walk.begin(benchEdition()).give({ id: 'back' }).refused?.key).toBe('nothingToUndo');
	});
});

describe('troubles', () => {
	it('R9: nested troubles come back one after another; a way back to a step closes what stands between', () => {
		const walk = at('look/seen');
		walk.give({ id: 'trouble', trouble: 'lost' });
		walk.give({ id: 'trouble', trouble: 'power' });
		expect(walk.state.frames).toEqual({
			trouble: 'power',
			from: 'trouble:lost/search',
			outer: { trouble: 'lost', from: 'look/seen', outer: null }
		});
		walk.answer('back');
		expect(walk.state).toMatchObject({ step: 'trouble:lost/search', frames: { trouble: 'lost', outer: null } });
		walk.answer('found');
		expect(walk.state).toMatchObject({ step: 'look/seen', frames: null });
	});

	it('R9: the same trouble twice in a row in the same step is refused', () => {
		const walk = at('look/seen');
		walk.give({ id: 'trouble', trouble: 'power' });
		expect(walk.give({ id: 'trouble', trouble: 'power' }).drafts).toBeDefined();
		expect(walk.state.frames?.outer?.trouble).toBe('power');
		expect(walk.give({ id: 'trouble', trouble: 'power' }).refused?.key).toBe('sameTrouble');
	});

	it('R9 R23: those that can happen here are offered first; another is asked about', () => {
		const walk = at('look/seen');
		const offered = allowed(walk.state).find(({ id }) => id === 'trouble')?.troubles ?? [];
		expect(offered.map(({ trouble, here }) => [trouble.id, here])).toEqual([
			['lost', true],
			['power', true],
			['time', true],
			['jammed', false]
		]);
		expect(walk.give({ id: 'trouble', trouble: 'jammed' }).ask?.key).toBe('troubleElsewhere');
	});

	it('R10: a return whose requirement does not hold holds the run', () => {
		const walk = at('cut/withdraw');
		walk.give({ id: 'trouble', trouble: 'jammed' });
		const decision = walk.next();
		expect(decision.told).toMatchObject([
			{ key: 'heldByRequirement', params: { about: 'cut/withdraw' }, unmet: [{ part: 'probe', is: ['in'] }] }
		]);
		expect(walk.state).toMatchObject({ status: 'held', step: 'trouble:jammed/free' });
	});

	it('R2 R23: a trouble called while held shows its first step, and answers wait for the parts', () => {
		const walk = at('look/seen');
		walk.give({ id: 'stop' });
		walk.give({ id: 'trouble', trouble: 'lost' });
		expect(walk.state).toMatchObject({ status: 'held', step: 'trouble:lost/search' });
		expect(walk.give({ id: 'answer', outcome: 'found' }).refused?.key).toBe('notNow');
	});

	it('R11: the end of the visit leads along the safe path and ends aborted', () => {
		const walk = at('cut/cut');
		expect(walk.give({ id: 'endVisit' }).ask?.key).toBe('endVisit');
		walk.give({ id: 'endVisit', sure: true, why: 'time' });
		expect(walk.state).toMatchObject({ step: 'cut/withdraw', ending: true });
		walk.next();
		expect(walk.state.step).toBe('unload/vent');
		walk.next();
		expect(walk.state.status).toBe('aborted');
		expect(walk.events[walk.events.length - 1]?.data).toEqual({ why: 'time' });
		expect(walk.state.contradictions).toBeNull();
	});

	it('R11: a trouble without steps of its own leads to the safe end, and step back takes all of it back', () => {
		const walk = at('cut/cut');
		walk.give({ id: 'trouble', trouble: 'time' });
		expect(walk.kinds().slice(-4)).toEqual(['trouble', 'wayBack', 'endBegun', 'stepEntered']);
		expect(walk.state).toMatchObject({ step: 'cut/withdraw', ending: true, endingWhy: 'time', frames: null });
		walk.give({ id: 'back' });
		expect(walk.state).toMatchObject({ step: 'cut/cut', ending: false });
	});

	it('R12: ending the run here wants the parts stated where the safe end is not reached', () => {
		const walk = at('cut/cut');
		expect(walk.give({ id: 'abort', why: 'fire' }).ask?.key).toBe('stateParts');
		walk.sure({ id: 'abort', why: 'fire', parts: { probe: { is: 'unknown', known: 'stated' } } });
		expect(walk.state).toMatchObject({ status: 'aborted', parts: { probe: 'unknown' }, contradictions: null });
	});
});

describe('holding, pausing, pen and hands', () => {
	it('R2: pause and resume; stop holds; hold ends only after the parts were stated', () => {
		const walk = at('look/seen');
		walk.give({ id: 'pause' });
		expect(walk.state.status).toBe('paused');
		expect(walk.give({ id: 'next' }).refused?.key).toBe('notNow');
		walk.give({ id: 'resume' });
		walk.give({ id: 'stop' });
		expect(walk.state).toMatchObject({ status: 'held', held: { why: 'stop' } });
		walk.give({ id: 'parts', parts: { probe: { is: 'out', known: 'seen' } }, why: 'looked' });
		walk.give({ id: 'resume' });
		expect(walk.state).toMatchObject({ status: 'running', held: null });
	});

	it('R19: a statement that breaks an invariant is told and holds the run until it no longer does', () => {
		const walk = at('look/seen');
		walk.give({
			id: 'parts',
			parts: { probe: { is: 'in', known: 'seen' }, lock: { is: 'vented', known: 'seen' } },
			why: 'looked'
		});
		expect(walk.state).toMatchObject({ status: 'held', held: { why: 'invariant', about: 'vent' } });
		walk.give({ id: 'parts', parts: { probe: { is: 'in', known: 'seen' } }, why: 'looked' });
		expect(walk.give({ id: 'resume' }).refused?.key).toBe('invariantBroken');
	});

	it('R18: only the device with the pen writes; taking it is an event of the taker', () => {
		const walk = at('look/seen');
		walk.give({ id: 'handOver', to: 'Kim (invented)' });
		walk.device = 'other tablet';
		expect(walk.give({ id: 'next' }).refused).toMatchObject({ key: 'noPen', instead: ['takePen'] });
		walk.give({ id: 'takePen' });
		expect(walk.state.pen).toEqual({ device: 'other tablet', givenTo: null });
		walk.give({ id: 'next' });
		expect(walk.state.step).toBe('look/measure');
	});

	it('R25: touch is refused where the step needs it, until they are said to be off', () => {
		const walk = Walk.begin(benchEdition());
		walk.via = 'touch';
		expect(walk.give({ id: 'next' }).refused).toMatchObject({ key: 'cleanGloves', instead: ['hands'] });
		walk.give({ id: 'hands', are: 'off' });
		walk.give({ id: 'next' });
		expect(walk.state.step).toBe('load/spare');
	});

	it('R17: what was done earlier moves nothing', () => {
		const walk = at('look/seen');
		const before = walk.state;
		walk.give({ id: 'late', step: 'load/spare', done: '2026-03-02T08:00:00+01:00', words: 'before the walk' });
		expect({ ...walk.state, seq: before.seq }).toEqual(before);
		expect(walk.give({ id: 'late', done: 'yesterday', words: '' }).refused?.key).toBe('notAMoment');
	});

	it('yes does what was asked, and is refused where nothing was', () => {
		const walk = at('look/seen');
		expect(walk.give({ id: 'yes' }).refused?.key).toBe('nothingAsked');
		const question = walk.give({ id: 'endVisit' }).ask ?? null;
		walk.give({ id: 'yes' }, question);
		expect(walk.state.ending).toBe(true);
	});

	it('R4: a run that was cut off between outcome and step enters the due step when it is opened again', () => {
		const walk = at('look/seen');
		walk.write([{ kind: 'outcome', data: { step: 'look/seen', outcome: 'seen' } }]);
		walk.clock.reload(60_000);
		walk.give({ id: 'reopen', last: { at: walk.events[5]?.at ?? '', mono: 1, boot: 'boot-1' }, mended: [] });
		expect(walk.kinds().slice(-3)).toEqual(['outcome', 'reopened', 'stepEntered']);
		expect(walk.state).toMatchObject({ step: 'look/measure', due: null });
	});

	it('R4 R9: so does one cut off before the way back', () => {
		const walk = at('look/seen');
		walk.give({ id: 'trouble', trouble: 'lost' });
		walk.write([{ kind: 'outcome', data: { step: 'trouble:lost/search', outcome: 'found' } }]);
		walk.give({ id: 'reopen', last: { at: walk.events[5]?.at ?? '', mono: 1, boot: 'boot-1' }, mended: [] });
		expect(walk.kinds().slice(-3)).toEqual(['reopened', 'wayBack', 'stepEntered']);
		expect(walk.state).toMatchObject({ step: 'look/seen', frames: null });
	});

	it('R3: what is not offered is refused and writes nothing; what is offered is not refused for its state', () => {
		for (const walk of [at('look/choose'), at('look/measure'), at('cut/insert'), at('unload/vent')]) {
			walk.give({ id: 'note', text: 'x' });
			for (const { id } of allowed(walk.state)) expect(walk.state.status === 'running' && id).not.toBe('resume');
			const offered = ids(walk);
			expect(offered.includes('digits')).toBe(walk.state.step === 'look/measure');
			expect(offered.includes('confirm')).toBe(walk.state.step === 'cut/insert');
			expect(offered.includes('next')).toBe(walk.state.step === 'cut/insert' || walk.state.step === 'unload/vent');
			expect(walk.give({ id: 'resume' }).refused?.key).toBe('notNow');
		}
	});
});
