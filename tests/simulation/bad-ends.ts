import type { Edition, Step } from '$lib/procedure/edition';

/**
 * What must not happen at the instrument, as a person in the trade would say it, judged from what is true of the world
 * and never from what the procedure requires or forbids. Common practice, no source (the rules "that are never broken"
 * of the trade's description). Part ids are those of the shipped visit.
 */

export type World = Readonly<Record<string, string>>;
export type BadEnd = string;

const slots = ['slot-1', 'slot-2', 'slot-3', 'slot-4'] as const;
/** What the session's log says of the parts when a visit is over. */
const logged = ['tip', ...slots, 'lamella'];
const clear = ['at-slot-1', 'at-slot-2', 'at-slot-3', 'at-slot-4', 'grid', 'sample', 'lowered'];
const fast = ['bulk-and-tip', 'tip-and-post'];
const carried = [...fast, 'on-the-tip'];

/** What is wrong with a step that has changed the world so; null: nothing. */
export function badAct(before: World, after: World, step: Step, edition: Edition): BadEnd | null {
	const now = (part: string, ...is: string[]) => is.includes(after[part] ?? '');
	const was = (part: string, ...is: string[]) => is.includes(before[part] ?? '');
	const changed = (part: string) => before[part] !== after[part];
	if (changed('stage') && !step.smallMoves.includes('stage') && !(was('probe', 'out') && was('gas-needle', 'out'))) return 'the stage moved with the probe or the gas needle in';
	if (changed('holder') && !(was('probe', 'out') && was('gas-needle', 'out'))) return 'the holder was moved with the probe or the gas needle in';
	if (changed('holder') && was('beams', 'on')) return 'the holder was moved with a beam on';
	if (now('lock', 'vented') && now('beams', 'on')) return 'the lock was vented with a beam on';
	if (now('probe', 'in') && changed('probe') && !clear.includes(before['stage'] ?? '')) return 'the probe was inserted where its path is not known to be clear';
	if (now('gas-needle', 'in') && changed('gas-needle') && !was('stage', 'grid', 'sample')) return 'the gas needle was inserted away from grid and sample';
	if (was('probe', 'in') && now('probe', 'out') && now('lamella', ...fast)) return 'the probe was withdrawn while the lamella was fast';
	if (now('tip', 'none') && now('lamella', ...carried)) return 'a lamella hangs on a tip that is not there';
	for (const slot of slots) {
		const own = `of-${slot}`;
		if (now('tip', own) && now(slot, 'holds')) return 'one tip is in two places';
		if (was('tip', ...slots.map((one) => `of-${one}`)) && now('tip', 'none') && changed(slot) && now(slot, 'holds')) {
			if (!was('tip', own)) return 'a tip was put into the slot of another';
			if (!was(slot, 'empty')) return 'a tip was put into a slot that is full or not known to be empty';
		}
		if (was('tip', own) && now('tip', 'none') && was(slot, 'holds')) return 'a tip was put into a full slot';
		if (changed(slot) && !was('holder', 'on-the-bench') && !was('stage', `at-${slot}`)) return 'a slot was filled or emptied from afar';
	}
	if (was('tip', 'none') && changed('tip') && !now('tip', 'unknown') && was('holder', 'in-the-chamber') && !now('probe', 'in')) return 'a tip was gripped with the probe out';
	for (const part of edition.parts)
		if (changed(part.id) && part.dangerous.includes(after[part.id] ?? '') && step.hazard?.confirm !== true) return `${part.id} became ${after[part.id]} without anyone confirming`;
	return null;
}

/** What is wrong with ending so. `log`: what the guide believes, and what the session's log will say. */
export function badEnding(end: 'complete' | 'safe', world: World, log: World): BadEnd | null {
	const is = (part: string, ...one: string[]) => one.includes(world[part] ?? '');
	if (!is('probe', 'out') || !is('gas-needle', 'out')) return 'it ended with the probe or the gas needle in';
	if (!is('beams', 'off')) return 'it ended with a beam on';
	if (!is('holder', 'on-the-bench')) return 'it ended with the holder left inside';
	if (is('tip', 'unknown') || slots.some((slot) => is(slot, 'unknown'))) return 'it ended with a tip or a slot not accounted for';
	if (!is('tip', 'none') && !is('left-tip', 'logged')) return 'it ended with a tip on the probe that nobody logged';
	if (is('lamella', ...carried)) return 'it ended with the lamella hanging on the tip';
	if (end === 'complete' && !is('lamella', 'on-the-grid')) return 'it was called complete without a lamella on the grid';
	const wrong = logged.find((part) => world[part] !== log[part]);
	return wrong === undefined ? null : `the log is wrong about ${wrong}`;
}
