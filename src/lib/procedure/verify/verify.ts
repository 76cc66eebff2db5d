import { codedEdition } from '../coded-edition';
import type { Edition } from '../edition';
import { accounted } from './accounted';
import { backwards } from './backwards';
import { fewer } from './fewer';
import type { Finding, Verdict } from './finding';
import type { Met } from './met';
import { Reach } from './reach';
import { type Positions, Say } from './say';
import { WALK } from './space';
import { unconfirmed, unreachable } from './text-rules';
import { Trace } from './trace';

export interface VerifyOptions {
	/** Where each piece stands in the text (`Compiled.positions`); findings then have positions. */
	readonly positions?: Positions;
	/** Milliseconds of a clock, for the statistics. */
	readonly now?: () => number;
	/** Most states explored (default 3,000,000) and most starts (default 100,000); hitting one is a finding. */
	readonly states?: number;
	readonly starts?: number;
}

/**
 * Proves or refutes, over every reachable combination of step and parts, with every outcome, every step left out, every
 * trouble however nested and every option of the choice settings: no step is entered with its requirement unmet; no
 * invariant is broken; every state can reach an end by the procedure's own flow; every trouble can be left; at every end
 * tips and slots are accounted for; a tip returns to the slot that it left and only if that is empty; every step is
 * reachable; dangerous conditions are confirmed; from every state the safe end can be planned. No findings: all proved.
 *
 * Number settings stand at their defaults. Runs that begin in the middle, and parts that a person states anew while a run
 * is held, are outside: the run itself looks at what they break.
 */
export function verify(edition: Edition, options: VerifyOptions = {}): Verdict {
	const { positions = new Map(), now = () => 0, states = 3_000_000, starts = 100_000 } = options;
	const began = now();
	const reach = new Reach(codedEdition(edition), { states, starts });
	const say = new Say(reach, positions);
	const met = [...reach.met.all, ...backwards(reach), ...accounted(reach)];
	const findings: Finding[] = [...limits(reach, say), ...unreachable(reach, say), ...unconfirmed(edition, reach, say)].map((text) => ({
		...text,
		position: say.position(text.at),
		path: [],
		parts: null,
		settings: null
	}));
	if (met.length > 0) findings.push(...told(met, reach, say));
	let endingStates = 0;
	for (let state = 0; state < reach.space.count; state++) if (reach.space.mode.at(state) !== WALK) endingStates++;
	return {
		findings: fewer(findings),
		statistics: { states: reach.space.count, endingStates, valuations: reach.valuations.count, starts: reach.startParts.length, ms: now() - began }
	};
}

function limits(reach: Reach, say: Say): Pick<Finding, 'rule' | 'sentence' | 'at'>[] {
	const first = say.path(reach.code.first);
	if (!reach.all)
		return [{ rule: 'limit', sentence: `more than ${reach.space.limit} states or too many starts: what follows is not proved; expected fewer parts or conditions`, at: first }];
	if (reach.starts.length > 0) return [];
	return [{ rule: 'start', sentence: 'no start is allowed: no combination of the parts\' start conditions fulfils the invariants and the first step\'s requirement', at: first }];
}

function told(met: readonly Met[], reach: Reach, say: Say): Finding[] {
	const trace = new Trace(reach);
	return met.map((one) => {
		const from = one.from.filter((state) => state >= 0);
		const { state, moves } = from.length > 0 ? trace.to(from) : { state: -1, moves: [] };
		const { sentence, at } = say.met(one, state);
		const now = reach.code.coding.decode(reach.valuations.digits, one.parts * reach.valuations.width);
		return {
			rule: one.rule,
			sentence,
			at,
			position: say.position(at),
			path: state < 0 ? [] : [...say.moves(moves), say.standing(state, one.by)],
			parts: now.parts,
			settings: now.settings
		};
	});
}
