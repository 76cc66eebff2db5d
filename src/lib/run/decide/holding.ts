import { brokenAlways, brokenRequirement } from '../broken';
import type { Command, DecideContext, Decision } from '../command';
import type { StatedParts } from '../events';
import type { RunState } from '../state';
import { begin, tell, write } from '../writing';
import { ask, brokenTold, done, hold, refuse, settled } from './result';

type Of<Id extends Command['id']> = Extract<Command, { id: Id }>;

export const pause = (state: RunState, { reason }: Of<'pause'>, context: DecideContext): Decision =>
	done(write(begin(state), { kind: 'paused', data: { reason: reason ?? '' } }, context));

/** "stop" silences the guide and holds the run; the instrument's own stop is another one. */
export const stop = (state: RunState, _: Of<'stop'>, context: DecideContext): Decision =>
	done(
		tell(write(begin(state), { kind: 'held', data: { why: 'stop', about: state.step } }, context), {
			key: 'stopOnlyTheGuide',
			params: {}
		})
	);

/** The parts were looked at and stated since the run was held. */
export const statedSinceHeld = ({ held, statedSeq }: Pick<RunState, 'held' | 'statedSeq'>): boolean =>
	!held || statedSeq > held.seq;

/** On again; from hold only with the parts stated and no invariant broken (R2, R19). */
export function resume(state: RunState, command: Of<'resume'>, context: DecideContext): Decision {
	if (state.status === 'held') {
		if (!statedSinceHeld(state))
			return ask(
				'stateParts',
				null,
				{ why: state.held?.why ?? '', about: state.held?.about ?? '' },
				{ wants: 'parts' }
			);
		const always = brokenAlways(state, state.parts)[0];
		if (always)
			return refuse(
				'invariantBroken',
				{ invariant: always.about },
				{ unmet: always.unmet, instead: ['parts', 'trouble'] }
			);
		const lacks = state.due === null ? brokenRequirement(state, state.step) : null;
		if (lacks && !command.knowingly)
			return ask('requirementUnmet', { id: 'resume', knowingly: true }, { step: state.step }, { unmet: lacks.unmet });
	}
	return settled(write(begin(state), { kind: 'resumed', data: {} }, context), context);
}

/** States the parts as seen; invariants that this breaks are told and hold the run (R19). */
export function parts(state: RunState, { parts: stated, why }: Of<'parts'>, context: DecideContext): Decision {
	const wrong = unknownCondition(state, stated);
	if (wrong) return wrong;
	const written = write(begin(state), { kind: 'partsStated', data: { parts: stated, why } }, context);
	const broken = brokenAlways(written.state, written.state.parts);
	const [first, ...others] = broken;
	return first ? hold(tell(written, ...others.map(brokenTold)), first, context) : done(written);
}

export function unknownCondition(state: RunState, stated: StatedParts): Decision | null {
	for (const [id, { is }] of Object.entries(stated)) {
		const known = state.edition.parts
			.find((part) => part.id === id)
			?.conditions.some((condition) => condition.id === is);
		if (!known) return refuse('noSuchCondition', { part: id, condition: is });
	}
	return null;
}

/** The app was opened again: the last sign of life goes into the record, and a step that was due is entered (R4). */
export const reopen = (state: RunState, { last, mended }: Of<'reopen'>, context: DecideContext): Decision => {
	const data = { lastAt: last.at, lastMono: last.mono, lastBoot: last.boot, mended };
	const written = write(begin(state), { kind: 'reopened', data }, context);
	return state.status === 'running' ? settled(written, context) : done(written);
};
