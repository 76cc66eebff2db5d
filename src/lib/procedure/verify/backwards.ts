import { canReach } from './closure';
import { Ints } from './ints';
import type { Met } from './met';
import { Plannable } from './plannable';
import type { Reach } from './reach';
import { WALK } from './space';

/** What is seen only from the ends backwards: dead ends, troubles that can't be left, no safe end. */
export function backwards(reach: Reach): Met[] {
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
