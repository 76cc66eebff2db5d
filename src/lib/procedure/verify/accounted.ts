import { NONE } from '../coding';
import type { Met } from './met';
import type { Reach } from './reach';
import { tipParts } from './tips';

/**
 * Whatever an edition's end conditions say: at an end neither the tip on the probe nor what a slot holds may be unknown.
 * Looked at for every way to the complete end, and for all parts with which a visit that is ended early would be over.
 */
export function accounted(reach: Reach): Met[] {
	const { code, valuations, space } = reach;
	const tips = tipParts(code);
	if (!tips) return [];
	const digits = [tips.tip, ...tips.slots.map(({ digit }) => digit)];
	const unknown = digits.map((digit) => {
		const part = code.edition.parts[digit];
		return part?.unknown === undefined ? NONE : code.coding.value(digit, part.unknown);
	});
	const lost = (parts: number) => digits.findIndex((digit, i) => unknown[i] !== NONE && valuations.digits[parts * valuations.width + digit] === unknown[i]);
	const met = new Map<string, Met>();
	const add = (end: 'complete' | 'safe', from: number, parts: number) => {
		const found = lost(parts);
		if (found < 0) return;
		const about = `${end}|${code.edition.parts[digits[found] ?? 0]?.id}`;
		const known = met.get(about);
		if (known) known.from.push(from);
		else met.set(about, { rule: 'unaccounted', by: { kind: 'stand' }, step: from < 0 ? code.first : space.step.at(from), about, parts, from: [from] });
	};
	for (let i = 0; i < reach.completed.length; i += 2) add('complete', reach.completed.at(i), reach.completed.at(i + 1));
	for (let state = 0; state < space.count; state++) {
		const parts = space.parts.at(state);
		if (code.safe(valuations.digits, parts * valuations.width)) add('safe', state, parts);
	}
	return [...met.values()];
}
