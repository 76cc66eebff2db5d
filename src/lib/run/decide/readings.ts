import { movedBy, stageAxisOf } from '$lib/metrology/returns';
import { unitFactor } from '$lib/metrology/units';
import type { ReadingSpec } from '$lib/procedure/edition';
import { judgeLoop } from '../adjust';
import { readingAsked } from '../asked';
import type { DecideContext, Decision, Question, ReadingGiven } from '../command';
import type { RunState } from '../state';
import { begin, tell, write } from '../writing';
import { ask, refuse, settled } from './result';

/** A reading: bounds, plausibility, echo, then it counts (R15); the last one of a step or round is judged at once (R5, R14). */
export function digits(state: RunState, command: ReadingGiven, context: DecideContext): Decision {
	const asked = readingAsked(state);
	if (!asked) return refuse('noReadingAsked');
	if (command.reading !== undefined && command.reading !== asked.id)
		return refuse('otherReading', { reading: command.reading, asked: asked.id });
	const { value, unit } = command;
	const uncertainty = command.uncertainty ?? null;
	if (!Number.isFinite(value) || (uncertainty !== null && !(Number.isFinite(uncertainty) && uncertainty >= 0)))
		return refuse('notANumber');
	if (unit !== asked.unit) return refuse('otherUnit', { unit, expected: asked.unit });
	if (value < asked.min || value > asked.max)
		return refuse('outOfBounds', { value, min: asked.min, max: asked.max, unit });
	const [low, high] = asked.plausible;
	if ((value < low || value > high) && !command.meant)
		return ask(
			'implausible',
			{ ...command, meant: true, confirmed: false },
			{ reading: asked.id, value, unit, low, high }
		);
	const moved = command.placed ? null : placeMoved(state, asked, command, context);
	if (moved) return ask('placeMoved', { ...command, placed: true, confirmed: false }, moved);
	if (!command.confirmed)
		return ask(
			'echo',
			{ ...command, confirmed: true },
			{ reading: asked.id, value, unit, ...(uncertainty === null ? {} : { uncertainty }) }
		);
	const data = {
		step: state.step,
		reading: asked.id,
		value,
		unit,
		uncertainty,
		raw: command.raw,
		confirmed: true,
		round: state.rounds.length + 1
	};
	const written = write(begin(state), { kind: 'reading', data }, context);
	const loop = written.state.rounds.length > state.rounds.length ? judgeLoop(written.state) : null;
	return settled(tell(written, ...(loop?.told ?? [])), context);
}

/** What is asked where a stage position lies farther from its stored place than it may have moved; null where it does not. */
function placeMoved(
	{ parts, readings }: RunState,
	asked: ReadingSpec,
	{ value, unit }: ReadingGiven,
	{ places }: DecideContext
): Question['params'] | null {
	const axis = stageAxisOf(asked.id);
	const factor = unitFactor('length', unit);
	const place = parts['stage'];
	if (!places || !axis || factor === undefined || place === undefined) return null;
	const before = Object.fromEntries(
		Object.entries(readings).flatMap(([id, taken]) => {
			const known = stageAxisOf(id);
			const own = unitFactor('length', taken.unit);
			return known && known !== axis && own !== undefined ? [[known, taken.value * own]] : [];
		})
	);
	const moved = movedBy(places, place, before, axis, value * factor);
	if (!moved) return null;
	const expected = Number((moved.expectedM / factor).toFixed(asked.decimals));
	return { reading: asked.id, value, unit, expected, offM: moved.offM, toleranceM: places.toleranceM };
}
