import { judgeLoop } from '../adjust';
import { readingAsked } from '../asked';
import type { DecideContext, Decision, ReadingGiven } from '../command';
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
	const loop = written.state.rounds.length > state.rounds.length ? judgeLoop(written.state, context.instrument) : null;
	return settled(tell(written, ...(loop?.told ?? [])), context);
}
