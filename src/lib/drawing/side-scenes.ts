import type { Handle } from './handle';
import type { Values } from './parameters';

/** What each subject of the side view is made of, in the plane of tilt: y to the right, z up, in m; angles from the vertical, rad. */

export type Spot = readonly [y: number, z: number];

type Line = 'surface' | 'before' | 'guide' | 'lens' | 'limit' | 'move';

export type Mark =
	/** A column's beam down to the axis. */
	| { readonly kind: 'beam'; readonly angle: number; readonly of: 'electron' | 'ion' }
	/** The stage's surface or what lies on it. */
	| { readonly kind: Line; readonly from: Spot; readonly to: Spot }
	| { readonly kind: 'feature'; readonly at: Spot }
	| { readonly kind: 'feature before'; readonly at: Spot }
	/** What a length is, written beside its line. */
	| { readonly kind: 'measure'; readonly from: Spot; readonly to: Spot; readonly parameter: string; readonly value: number }
	| { readonly kind: 'wedge'; readonly from: number; readonly to: number; readonly radius: number }
	/** Names an angle at the end of its line. */
	| { readonly kind: 'angle'; readonly at: Spot; readonly parameter: string; readonly value: number };

export interface Grip {
	readonly at: Spot;
	readonly along: Handle['along'];
	readonly parameters: readonly string[];
	given(y: number, z: number): Readonly<Record<string, number>>;
}

export interface Scene {
	readonly marks: readonly Mark[];
	readonly grips: readonly Grip[];
	/** How far from the axis must be seen. */
	readonly reachM: number;
	/** Where the axis lies on the drawing: 0 at its top, 1 at its foot. */
	readonly axisAt: number;
}

type Numbers = Values['numbers'];
type Scened = Pick<Scene, 'marks' | 'grips'>;

const along = (angle: number, lengthM: number): Spot => [lengthM * Math.sin(angle), lengthM * Math.cos(angle)];
const plus = (a: Spot, b: Spot): Spot => [a[0] + b[0], a[1] + b[1]];
const scaled = (a: Spot, by: number): Spot => [a[0] * by, a[1] * by];
const origin: Spot = [0, 0];

/** A stage tilted by `angle`: its surface at `heightM` over the axis, and its normal with the grip that tilts it. */
function stage(parameter: string, known: number | undefined, heightM: number, reachM: number, kind: 'surface' | 'before' | 'limit' = 'surface'): Scened {
	const angle = known ?? 0;
	const normal = along(angle, 1);
	const across: Spot = [normal[1], -normal[0]];
	const middle = scaled(normal, heightM);
	const end = scaled(normal, reachM);
	return {
		marks: [
			...(kind === 'limit' ? [] : ([{ kind, from: plus(middle, scaled(across, -0.75 * reachM)), to: plus(middle, scaled(across, 0.75 * reachM)) }] as const)),
			{ kind: 'guide', from: origin, to: end },
			...(known === undefined ? [] : ([{ kind: 'angle', at: end, parameter, value: angle }] as const))
		],
		grips: [{ at: end, along: 'both', parameters: [parameter], given: (y, z) => ({ [parameter]: Math.atan2(y, Math.max(z, 0)) }) }]
	};
}

const together = (...parts: readonly Scened[]): Scened => ({ marks: parts.flatMap(({ marks }) => marks), grips: parts.flatMap(({ grips }) => grips) });
const beams = ({ columnAngle }: Numbers): Scened => ({
	marks: [{ kind: 'beam', angle: 0, of: 'electron' }, ...(columnAngle === undefined ? [] : ([{ kind: 'beam', angle: columnAngle, of: 'ion' }] as const))],
	grips: []
});

/** A feature at two tilts, and how far it wandered in the electron view. */
function twoTilts(numbers: Numbers, reachM: number): Scened {
	const { height = 0, lateral = 0, shift } = numbers;
	const plusMinus = numbers.tilt !== undefined;
	const [from, to] = plusMinus ? [-numbers.tilt!, numbers.tilt!] : [numbers.tiltFrom ?? 0, numbers.tiltTo ?? 0];
	const [said, saidTo] = plusMinus ? [from, to] : [numbers.tiltFrom, numbers.tiltTo];
	const at = (tilt: number): Spot => plus(along(tilt, height), [lateral * Math.cos(tilt), -lateral * Math.sin(tilt)]);
	const [before, after] = [at(from), at(to)];
	const stageBefore = stage(plusMinus ? 'tilt' : 'tiltFrom', said, height, reachM, 'before');
	const stageAfter = stage(plusMinus ? 'tilt' : 'tiltTo', saidTo, height, reachM);
	return together(plusMinus ? { ...stageBefore, grips: [] } : stageBefore, stageAfter, {
		marks: [
			{ kind: 'feature before', at: before },
			{ kind: 'feature', at: after },
			...(shift === undefined ? [] : ([{ kind: 'measure', from: [before[0], 0.55 * reachM], to: [before[0] + shift, 0.55 * reachM], parameter: 'shift', value: shift }] as const)),
			...(numbers.height === undefined ? [] : ([{ kind: 'measure', from: origin, to: along(to, height), parameter: 'height', value: height }] as const))
		],
		grips: [{ at: [before[0] + (shift ?? 0), after[1]], along: 'x', parameters: ['shift'], given: (y) => ({ shift: y - before[0] }) }]
	});
}

/** A Z axis that rides on the tilt: what the ion view shows, and the move along the axis that takes it away. */
function ridingAxis(numbers: Numbers, reachM: number): Scened {
	const { columnAngle = 0, shift = 0, move } = numbers;
	const seenUp: Spot = [Math.cos(columnAngle), -Math.sin(columnAngle)];
	const feature = scaled(seenUp, shift);
	return together(beams(numbers), stage('tilt', numbers.tilt, 0, reachM), {
		marks: [
			{ kind: 'guide', from: scaled(seenUp, -0.9 * reachM), to: scaled(seenUp, 0.9 * reachM) },
			{ kind: 'feature', at: feature },
			...(move === undefined ? [] : ([{ kind: 'move', from: feature, to: plus(feature, along(numbers.tilt ?? 0, move)) }] as const)),
			...(numbers.shift === undefined ? [] : ([{ kind: 'measure', from: origin, to: feature, parameter: 'shift', value: shift }] as const))
		],
		grips: [{ at: feature, along: 'both', parameters: ['shift'], given: (y, z) => ({ shift: y * seenUp[0] + z * seenUp[1] }) }]
	});
}

function tiltLimits(numbers: Numbers, reachM: number): Scened {
	const { least, most, tilt } = numbers;
	return together(
		least !== undefined && most !== undefined ? { marks: [{ kind: 'wedge', from: least, to: most, radius: 0.8 * reachM }], grips: [] } : { marks: [], grips: [] },
		least === undefined ? { marks: [], grips: [] } : stage('least', least, 0, 0.85 * reachM, 'limit'),
		most === undefined ? { marks: [], grips: [] } : stage('most', most, 0, 0.85 * reachM, 'limit'),
		stage('tilt', tilt, 0, reachM)
	);
}

/** A holder's highest point below the lens. */
function lens(numbers: Numbers, reachM: number): Scened {
	const { workingDistance, reach = 0, above = 0, tilt = 0, space } = numbers;
	// the side that rises is the one the stage leans away from
	const side = tilt >= 0 ? -1 : 1;
	const [rise, run] = [Math.sin(Math.abs(tilt)), Math.cos(tilt)];
	const point: Spot = [side * (reach * run - above * rise), reach * rise + above * run];
	const known = numbers.reach !== undefined;
	return together(stage('tilt', numbers.tilt, 0, 0.7 * reachM), {
		marks: [
			...(workingDistance === undefined
				? []
				: ([
						{ kind: 'lens', from: [-0.8 * reachM, workingDistance], to: [0.8 * reachM, workingDistance] },
						...(space === undefined ? [] : ([{ kind: 'limit', from: [-0.8 * reachM, workingDistance - space], to: [0.8 * reachM, workingDistance - space] }] as const)),
						...(known ? ([{ kind: 'measure', from: point, to: [point[0], workingDistance], parameter: 'space', value: workingDistance - point[1] }] as const) : [])
					] as const)),
			...(known ? ([{ kind: 'feature', at: point }] as const) : [])
		],
		grips: [
			...(workingDistance === undefined ? [] : [{ at: [0.6 * reachM, workingDistance] as Spot, along: 'y' as const, parameters: ['workingDistance'], given: (_: number, z: number) => ({ workingDistance: Math.max(0, z) }) }]),
			...(known
				? [{ at: point, along: 'both' as const, parameters: ['reach', 'above'], given: (y: number, z: number) => ({ reach: Math.max(0, side * y * run + z * rise), above: z * run - side * y * rise }) }]
				: [])
		]
	});
}

/** A cut face that runs along the ion beam: the electron view shows it shortened. */
function face(numbers: Numbers): Scened {
	const { columnAngle = 0, apparent = 0 } = numbers;
	const depth = columnAngle === 0 ? apparent : apparent / Math.sin(columnAngle);
	const end = along(columnAngle, -depth);
	return together(beams(numbers), {
		marks: [
			{ kind: 'surface', from: origin, to: [depth * 0.8 * Math.cos(columnAngle), -depth * 0.8 * Math.sin(columnAngle)] },
			{ kind: 'surface', from: origin, to: end },
			{ kind: 'measure', from: [end[0], 0.25 * depth], to: [0, 0.25 * depth], parameter: 'apparent', value: apparent },
			{ kind: 'measure', from: origin, to: end, parameter: 'truth', value: depth }
		],
		grips: [{ at: end, along: 'x', parameters: ['apparent'], given: (y) => ({ apparent: Math.max(0, -y) }) }]
	});
}

/** A lamella's top edge on a tilted stage: the electron view shows it shortened. */
function edge(numbers: Numbers, reachM: number): Scened {
	const { tilt = 0, apparent = 0 } = numbers;
	const thickness = apparent / Math.cos(tilt);
	const end: Spot = [apparent, -thickness * Math.sin(tilt)];
	return together({ marks: [{ kind: 'beam', angle: 0, of: 'electron' }], grips: [] }, stage('tilt', numbers.tilt, 0, 0.8 * reachM, 'before'), {
		marks: [
			{ kind: 'surface', from: origin, to: end },
			{ kind: 'measure', from: [0, 0.3 * reachM], to: [apparent, 0.3 * reachM], parameter: 'apparent', value: apparent },
			{ kind: 'measure', from: origin, to: end, parameter: 'truth', value: thickness }
		],
		grips: [{ at: end, along: 'x', parameters: ['apparent'], given: (y) => ({ apparent: Math.max(0, y) }) }]
	});
}

interface Subject {
	readonly axisAt: number;
	scene(numbers: Numbers, reachM: number): Scened;
}
const subjects: Readonly<Record<string, Subject>> = {
	'two tilts': { axisAt: 0.85, scene: twoTilts },
	'riding axis': { axisAt: 0.5, scene: ridingAxis },
	'tilt limits': { axisAt: 0.85, scene: tiltLimits },
	lens: { axisAt: 0.8, scene: lens },
	face: { axisAt: 0.35, scene: face },
	edge: { axisAt: 0.7, scene: edge }
};

const lengths = ['height', 'lateral', 'shift', 'move', 'apparent', 'truth', 'workingDistance', 'reach', 'above'] as const;

/** The scene of a drawing's subject; `reachM` is the extent to draw it for, its own where it is not given. */
export function sceneOf({ numbers, choices }: Values, reachM = ownReachM(numbers)): Scene {
	const subject = subjects[choices.subject ?? ''] ?? { axisAt: 0.5, scene: beams };
	return { ...subject.scene(numbers, reachM), reachM, axisAt: subject.axisAt };
}

/** Below it a length can't be read, and no scale be made of it. */
const LEAST_M = 1e-12;

/** Holds the longest of the lengths; where there is none, angles alone are drawn and any extent will do. */
function ownReachM(numbers: Numbers): number {
	const longest = Math.max(0, ...lengths.map((name) => Math.abs(numbers[name] ?? 0)));
	return longest < LEAST_M ? 20e-6 : 1.25 * longest;
}
