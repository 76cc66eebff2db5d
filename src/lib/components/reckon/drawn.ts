import { MOST_CORNERS } from '$lib/drawing/cut-shape';
import type { Given, GivenValue } from '$lib/drawing/parameters';
import type { Point, Value } from '$lib/metrology/reckoning';
import type { Refused, Solved } from '$lib/metrology/solve';

/** How a sum is drawn: which drawing, what it is given, and which input each of its parameters gives back when it is dragged. */
export interface Drawn {
	readonly name: string;
	readonly given: Given;
	/** Parameter of the drawing → input of the sum. */
	readonly inputs: Readonly<Record<string, string>>;
}

type Known = Readonly<Record<string, Value>>;
type Maker = (known: Known, results: Readonly<Record<string, number>>) => Drawn;

const lengthOf = (value: Value): GivenValue => (typeof value === 'number' ? { value, unit: 'm' } : undefined);
/** A length that the sum still waits for. */
const asked = (value: Value): GivenValue => lengthOf(value) ?? null;
const angleOf = (value: Value): GivenValue => (typeof value === 'number' ? { value, unit: 'rad' } : undefined);
const number = (value: Value): number => (typeof value === 'number' ? value : 0);

const halfDifference: Maker = (known, { error }) => ({
	name: 'jaws and shank',
	given: {
		gapLeft: asked(known.gapLeft),
		gapRight: asked(known.gapRight),
		tolerance: lengthOf(known.tolerance),
		mover: known.axis === 'stageX' ? 'shank' : 'jaws',
		// an untried sign allows no more than half the smaller gap
		...(error !== undefined && known.sign === 'untried' ? { goesBy: lengthOf(Math.min(Math.abs(error), Math.min(number(known.gapLeft), number(known.gapRight)) / 2)) } : {})
	},
	inputs: { gapLeft: 'gapLeft', gapRight: 'gapRight' }
});

/** The move by Z takes away what the ion view shows beyond what the offset in the electron view explains. */
const ionShift: Maker = (known, { height }) => ({
	name: 'two views',
	given: {
		view: 'both',
		viewHalf: lengthOf(known.viewHalf),
		electronX: 0,
		electronY: lengthOf(known.electronOffset),
		ionY: asked(known.shift),
		...(height === undefined ? {} : { goesIn: 'ion', goesY: lengthOf(height * Math.sin(number(known.columnAngle))) })
	},
	inputs: { ionY: 'shift', electronY: 'electronOffset' }
});

const viewOf: Maker = (known, { shift }) => ({
	name: 'two views',
	given: { electronY: asked(known.dy), ionY: lengthOf(shift) },
	inputs: { electronY: 'dy' }
});

const residue: Maker = (known, { shiftRight, error }) => ({
	name: 'two views',
	given: {
		view: 'ion',
		viewHalf: lengthOf(known.viewHalf),
		ionX: lengthOf(known.right),
		ionY: asked(known.up),
		range: lengthOf(known.range),
		...(error === undefined ? {} : { goesIn: 'ion', goesX: lengthOf(shiftRight), goesY: lengthOf(-error) })
	},
	inputs: { ionX: 'right', ionY: 'up' }
});

const side = (subject: string, given: Given, inputs: Drawn['inputs']): Drawn => ({ name: 'from the side', given: { subject, ...given }, inputs });

const ridingAxis: Maker = (known, { electronFollows }) => {
	const move = electronFollows === undefined ? undefined : -number(known.shift) / Math.sin(number(known.tilt) - number(known.columnAngle));
	return side('riding axis', { columnAngle: angleOf(known.columnAngle), tilt: angleOf(known.tilt), shift: lengthOf(known.shift), move: lengthOf(move) }, { tilt: 'tilt', shift: 'shift' });
};
const ridingViews: Maker = (known) =>
	side('riding axis', { columnAngle: angleOf(known.columnAngle), tilt: angleOf(known.tilt), move: lengthOf(known.move) }, { tilt: 'tilt' });
const fromTilt: Maker = (known, { error }) => {
	const turn = known.tiltSign === '-' ? -1 : 1;
	return side(
		'two tilts',
		// drawn as the formula has it: a tilt that moves a high feature up leans the stage to the right
		{ tiltFrom: angleOf(signed(known.tiltFrom, turn)), tiltTo: angleOf(signed(known.tiltTo, turn)), lateral: lengthOf(known.lateral), shift: lengthOf(known.shift), height: lengthOf(error) },
		{ shift: 'shift', ...(turn === 1 ? { tiltFrom: 'tiltFrom', tiltTo: 'tiltTo' } : {}) }
	);
};
const signed = (value: Value, by: number): Value => (typeof value === 'number' ? value * by : value);
const fromBothTilts: Maker = (known, { error }) =>
	side('two tilts', { tilt: angleOf(known.tilt ?? 0), shift: lengthOf(known.shift), height: lengthOf(error) }, { shift: 'shift', tilt: 'tilt' });
const depth: Maker = (known) => side('face', { columnAngle: angleOf(known.columnAngle), apparent: lengthOf(known.apparent) }, { apparent: 'apparent' });
const thickness: Maker = (known) => side('edge', { tilt: angleOf(known.tilt), apparent: lengthOf(known.apparent) }, { apparent: 'apparent', tilt: 'tilt' });
const tiltLimits: Maker = (known) =>
	side('tilt limits', { tilt: angleOf(known.tilt), least: angleOf(known.least), most: angleOf(known.most) }, { tilt: 'tilt', least: 'least', most: 'most' });
const lens: Maker = (known) =>
	side(
		'lens',
		{ workingDistance: lengthOf(known.workingDistance), reach: lengthOf(known.reach), above: lengthOf(known.above), tilt: angleOf(known.tilt), space: lengthOf(known.least) },
		{ workingDistance: 'workingDistance', reach: 'reach', above: 'above', tilt: 'tilt' }
	);

const cut =
	(goes: 'down' | 'up', depthInput: string | null, widthInput = 'width'): Maker =>
	(known, results) => ({
		name: 'cut or deposit',
		given: {
			goes,
			length: lengthOf(known.length),
			width: lengthOf(known[widthInput]),
			depth: lengthOf(depthInput === null ? results.depth : known[depthInput]),
			shape: known.shape === 'wedge' ? 'wedge' : 'box'
		},
		inputs: { length: 'length', width: widthInput, ...(depthInput === null ? {} : { depth: depthInput }) }
	});
const polygon: Maker = (known) => {
	const corners = (Array.isArray(known.corners) ? known.corners : []) as readonly Point[];
	return {
		name: 'cut or deposit',
		given: { depth: lengthOf(known.depth), ...Object.fromEntries(corners.slice(0, MOST_CORNERS).flatMap(([x, y], i) => [[`x${i + 1}`, lengthOf(x)], [`y${i + 1}`, lengthOf(y)]])) },
		inputs: { depth: 'depth', ...Object.fromEntries(corners.flatMap((_, i) => [`x${i + 1}`, `y${i + 1}`].map((name) => [name, 'corners']))) }
	};
};

const makers: Readonly<Record<string, Maker>> = {
	'half-difference': halfDifference,
	'height-from-ion-shift': ionShift,
	'z-on-tilt': ridingAxis,
	'z-on-tilt-views': ridingViews,
	'ion-shift': viewOf,
	'height-from-tilt': fromTilt,
	'height-from-plus-minus-tilt': fromBothTilts,
	'coincidence-residue': residue,
	'depth-from-apparent': depth,
	'thickness-from-apparent': thickness,
	'tilt-clearance': tiltLimits,
	'lens-clearance': lens,
	'time-trench': cut('down', 'depth'),
	'time-rectangle': cut('down', 'depth'),
	'time-polygon': polygon,
	'time-cleaning-cut': cut('down', 'depth', 'thickness'),
	'time-deposit': cut('up', 'height'),
	'current-density': cut('up', null),
	'current-for-density': cut('up', null),
	'depth-in-time': cut('down', null),
	passes: cut('down', null),
	'rate-from-cut': cut('down', 'depth')
};

/** Null for a sum that has nothing to draw (a rate from a yield). */
export function drawnFor(name: string, known: Known, solved: Solved | Refused | null): Drawn | null {
	const results = solved?.kind === 'solved' ? Object.fromEntries(Object.entries(solved.results).map(([key, { value }]) => [key, value])) : {};
	return makers[name]?.(known, results) ?? null;
}
