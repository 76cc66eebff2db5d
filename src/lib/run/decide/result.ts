import type { Broken, Command, Decision, Question, QuestionKey, Reason, ReasonKey, Told } from '../command';
import { settle } from '../settle';
import { tell, type Trial, type Written, write } from '../writing';

type Params = Reason['params'];

/** Parameters are few and flat: what is undefined is left out. */
export const refuse = (key: ReasonKey, params: Params = {}, more: Partial<Reason> = {}): Decision => ({
	refused: { key, params, ...more }
});

export const ask = (
	key: QuestionKey,
	yes: Command | null,
	params: Params = {},
	more: Partial<Question> = {}
): Decision => ({
	ask: { key, yes, params, ...more }
});

export const done = ({ drafts, told }: Pick<Written, 'drafts'> & Partial<Written>): Decision =>
	told?.length ? { drafts, told } : { drafts };

/** A command that only speaks. */
export const nothing: Decision = { drafts: [] };

export const brokenTold = (broken: Broken): Told => ({
	key:
		broken.what === 'requirement' ? 'heldByRequirement' : broken.what === 'invariant' ? 'heldByInvariant' : 'heldByEnd',
	params: { about: broken.about },
	unmet: broken.unmet
});

/** Holds the run because of what going on would break (R7, R10), and says which. Already held, it is only said. */
export function hold(written: Written, broken: Broken, trial: Trial): Decision {
	const told = tell(written, brokenTold(broken));
	if (written.state.status === 'held') return done(told);
	const why = broken.what === 'end' ? 'other' : broken.what;
	return done(write(told, { kind: 'held', data: { why, about: broken.about } }, trial));
}

/** Lets the walk go on as far as it does, or holds it. */
export function settled(written: Written, trial: Trial): Decision {
	const result = settle(written, trial);
	return result.written ? done(result.written) : hold(written, result.broken, trial);
}
