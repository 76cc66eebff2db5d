import { describe, expect, it } from 'vitest';
import type { Edition } from '$lib/procedure/edition';
import type { KnownPlaces } from '$lib/metrology/returns';
import { benchEdition } from '../../../tests/simulation/bench-edition';
import { part } from '../../../tests/fixtures/build-edition';
import { Walk } from '../../../tests/simulation/walk';
import type { Command } from './command';
import { decide } from './decide';

/** The bench edition with a stage at a slot, and a step that reads its position. */
function withStage(): Edition {
	const made = benchEdition();
	const measure = made.steps['look/measure']!;
	const readings = measure.readings.map((reading, i) => ({ ...reading, id: i === 0 ? 'stage-x' : 'stage-y', min: -1000, max: 1000, plausible: [-1000, 1000] as const, judged: undefined }));
	return {
		...made,
		parts: [...made.parts, part('stage', ['at-slot-1'])],
		steps: { ...made.steps, 'look/measure': { ...measure, readings: readings.map(({ judged: _, ...reading }) => reading) } }
	};
}
const places: KnownPlaces = { toleranceM: 5e-6, expected: { 'at-slot-1': { xM: 100e-6, yM: 0, zM: 0 } } };

function atReading(): Walk {
	const walk = Walk.begin(withStage());
	for (let i = 0; walk.state.step !== 'look/measure' && i < 30; i++) {
		if (walk.state.step === 'look/choose') walk.answer('first');
		else walk.next();
	}
	return walk;
}
/** Gives a command with the places known, and writes what comes of it. */
function give(walk: Walk, command: Command) {
	walk.clock.pass(1000);
	const decision = decide(walk.state, command, { now: walk.clock.now(), via: 'key', device: walk.device, places });
	if (decision.drafts) walk.write(decision.drafts);
	return decision;
}
const read = (value: number): Command => ({ id: 'digits', value, unit: 'µm', raw: String(value) });

describe('R15: a stage position is held against its stored place', () => {
	it('within the tolerance only the echo is asked', () => {
		expect(give(atReading(), read(104)).ask?.key).toBe('echo');
	});
	it('beyond it is questioned before the echo, with what was expected and how far off it is; a yes leads to the echo', () => {
		const walk = atReading();
		const { ask } = give(walk, read(112));
		expect(ask).toMatchObject({ key: 'placeMoved', params: { reading: 'stage-x', value: 112, expected: 100, offM: expect.closeTo(12e-6, 9), toleranceM: 5e-6 } });
		expect(walk.state.readings).toEqual({});
		const echo = give(walk, ask!.yes!);
		expect(echo.ask?.key).toBe('echo');
		give(walk, echo.ask!.yes!);
		expect(walk.state.readings['stage-x']).toMatchObject({ value: 112 });
		// the place was questioned once: the next axis is not asked about again
		expect(give(walk, read(0)).ask?.key).toBe('echo');
	});
	it('two axes that are together beyond it are questioned at the second', () => {
		const walk = atReading();
		give(walk, give(walk, read(104)).ask!.yes!);
		expect(give(walk, read(4)).ask?.key).toBe('placeMoved');
	});
	it('places that came to be known only after the number was keyed are still asked about', () => {
		const walk = atReading();
		walk.clock.pass(1000);
		const early = decide(walk.state, read(112), { now: walk.clock.now(), via: 'key', device: walk.device });
		expect(early.ask?.key).toBe('echo');
		expect(give(walk, early.ask!.yes!).ask?.key).toBe('placeMoved');
	});
});
