import { codedEdition } from '../coded-edition';
import type { Edition } from '../edition';
import { accounted } from './accounted';
import { canReach } from './closure';
import { fewer } from './fewer';
import type { Finding, Verdict } from './finding';
import { Ints } from './ints';
import type { Met } from './met';
import { Plannable } from './plannable';
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

/** What is seen only from the ends backwards: dead ends, troubles that can't be left, no safe end. */
function backwards(reach: Reach): Met[] {
	// a state at which something else was met was not gone on from: what lies beyond it is not held against it
	const cut = new Ints(64);
	for (const { from } of reach.met.all) for (const state of from) if (state >= 0) cut.push(state);
	const can = canReach(reach, [[reach.ends, cut], [reach.left, reach.ends, cut]]);
	const plans = new Plannable(reach, cut);
	const byStep = new Map<string, Met>();
	const add = (rule: Met['rule'], state: number, parts: number) => {
		const step = reach.space.step.at(state);
		const known = byStep.get(`${rule}|${step}`);
		if (known) known.from.push(state);
		else byStep.set(`${rule}|${step}`, { rule, by: { kind: 'stand' }, step, about: '', parts, from: [state] });
	};
	for (let state = 0; state < reach.space.count; state++) {
		const parts = reach.space.parts.at(state);
		if (reach.space.mode.at(state) === WALK) {
			if (reach.troubleOf(state) < 0 && ((can[state] ?? 0) & 1) === 0) add('dead end', state, parts);
			if (reach.troubleOf(state) >= 0 && ((can[state] ?? 0) & 2) === 0) add('no way back', state, parts);
		}
		if (!plans.fromState(state)) add('safe end', state, parts);
	}
	for (let i = 0; i < reach.due.length; i += 2) {
		const state = reach.due.at(i);
		const parts = reach.due.at(i + 1);
		// a step of a stage may be gone on from, as safe-path.ts does; a trouble's last step may not
		const again = reach.troubleOf(state) < 0 ? reach.space.find(reach.space.step.at(state), parts) : -1;
		if (!plans.fromParts(parts) && (again < 0 || !plans.fromState(again))) add('safe end', state, parts);
	}
	return [...byStep.values()];
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
