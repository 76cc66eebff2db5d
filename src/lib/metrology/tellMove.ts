import { seenDirection, type Axis, type Sign, type View } from './axes';
import type { MoveTold } from './move';
import { noiseFloorM } from './rounds';
import type { MoveWords } from './words';

/** What a reckoning found, before it becomes a move with words. */
export interface Found {
	readonly axis: Axis;
	/** The view in which the move is seen to go right; `side`: the stage itself goes up or down. */
	readonly view: View;
	/** Error along the measured direction, m. */
	readonly errorM: number;
	/** How the picture in `view` is to go: positive right or up. */
	readonly seenM: number;
	/** Sign of the axis in `view`; undefined where it has not been tried. */
	readonly sign: Sign | undefined;
	/** Sign of a larger Z number: +1 higher. Only for the stage's Z. */
	readonly raises?: Sign | undefined;
	/** Largest move that cannot touch, should it go the wrong way. */
	readonly capM?: number;
	/** Said after the move: what it brings with it. */
	readonly after?: readonly MoveWords[];
}

export interface Limits {
	readonly toleranceM?: number | undefined;
	readonly viewHalfM?: number | undefined;
	readonly limitM?: number | undefined;
}

/** The move for what was found: direction, sign, size, words; questioned where it is larger than the view or a limit. */
export function tellMove(found: Found, uncertaintyM: number, limits: Limits): MoveTold {
	const { axis, view, errorM, seenM, capM = Infinity } = found;
	const amountM = Math.min(Math.abs(seenM), capM);
	const sign = found.sign === undefined ? null : seenM >= 0 ? found.sign : (-found.sign as Sign);
	const toleranceShare = limits.toleranceM === undefined ? null : Math.abs(errorM) / limits.toleranceM;
	const within = toleranceShare !== null && toleranceShare <= 1;
	const words = within ? withinWords(errorM, limits) : moveWords(found, amountM, sign);
	if (!within && limits.toleranceM !== undefined) words.push(offWords(Math.abs(errorM), uncertaintyM, limits.toleranceM));
	const floorM = noiseFloorM(uncertaintyM);
	if (limits.toleranceM !== undefined && floorM > limits.toleranceM)
		words.push({ key: 'noiseFloor', parameters: { floorM } });
	const questioned = questionMove(amountM, limits);
	return {
		errorM,
		uncertaintyM,
		toleranceShare,
		move: { axis, direction: seenDirection(axis, seenM), view, sign, amountM, correctsM: Math.sign(errorM) * amountM },
		...(questioned ? { questioned } : {}),
		words
	};
}

/** A question in place of a move that is larger than half the view or than the limit set for it. */
export function questionMove(amountM: number, { viewHalfM, limitM }: Limits): MoveWords | undefined {
	if (viewHalfM !== undefined && amountM > viewHalfM) return { key: 'beyondView', parameters: { amountM, viewHalfM } };
	if (limitM !== undefined && amountM > limitM) return { key: 'beyondLimit', parameters: { amountM, limitM } };
	return undefined;
}

const offWords = (errorM: number, uncertaintyM: number, toleranceM: number): MoveWords =>
	uncertaintyM > 0
		? { key: 'offBy', parameters: { errorM, uncertaintyM, toleranceM } }
		: { key: 'offByUnstated', parameters: { errorM, toleranceM } };

function withinWords(errorM: number, { toleranceM = 0 }: Limits): MoveWords[] {
	return [{ key: 'within', parameters: { errorM: Math.abs(errorM), toleranceM } }];
}

function moveWords(found: Found, amountM: number, sign: Sign | null): MoveWords[] {
	const { axis, view, seenM } = found;
	const direction = seenDirection(axis, seenM);
	const words: MoveWords[] = [];
	// "up" and "down" of the stage itself are said only where it is known which number is higher
	const raises = view === 'side' ? 1 : sign !== null && found.raises !== undefined ? sign * found.raises : undefined;
	if (axis === 'stageZ' && raises !== undefined) {
		const stageDirection = view === 'side' ? direction : raises > 0 ? 'up' : 'down';
		words.push({ key: 'move', parameters: { axis, direction: stageDirection, amountM } });
	} else if (sign === null) words.push({ key: 'moveUntried', parameters: { axis, amountM, direction, view } });
	else if (axis === 'stageZ')
		words.push({ key: 'moveSigned', parameters: { axis, signedM: sign * amountM, direction, view } });
	else words.push({ key: 'move', parameters: { axis, direction, amountM } });
	if (amountM < Math.abs(seenM)) words.push({ key: 'moveCapped', parameters: {} });
	words.push(...(found.after ?? []));
	return words;
}
