import { faceDepthM, surfaceExtentM } from '../geometry';
import { columnAngle, size, tilt, viewHalf } from '../inputs';
import { declare } from '../reckoning';

/** True sizes from what a tilted view shows. */

/**
 * Turns the depth seen on a cross-section face into the true one.
 * d = d_app/sinθ, for a face parallel to the ion beam, seen by electrons, whatever the tilt (derived: the face stands at θ to the electron beam).
 */
export const depth = declare({
	name: 'depth-from-apparent',
	inputs: {
		/** depth as measured in the electron view */
		apparent: size({}),
		columnAngle,
		viewHalf
	},
	outputs: { depth: { dimension: 'length', usual: 'µm' } },
	compute: ({ apparent, columnAngle }) => ({ depth: faceDepthM(apparent, columnAngle) }),
	denominators: ({ columnAngle }) => ({ sinTheta: Math.sin(columnAngle) }),
	// what was measured on the screen cannot be larger than the view it was measured in
	question: ({ apparent, viewHalf }) => beyondView(apparent, viewHalf),
	say: (_, { depth }) => [{ key: 'trueDepth', parameters: { depthM: depth } }]
});

/**
 * Turns the thickness seen on a lamella’s top edge into the true one.
 * t = t_app/cosT; at T = θ, the ion beam along the lamella’s faces, t_app/cosθ (derived: a surface tilted by T is foreshortened by cosT along y).
 */
export const thickness = declare({
	name: 'thickness-from-apparent',
	inputs: {
		/** thickness of the top edge as measured in the electron view */
		apparent: size({}),
		/** tilt of the lamella’s top against the electron view; the column angle where its faces lie along the ion beam */
		tilt: tilt({ min: 0 }),
		viewHalf
	},
	outputs: { thickness: { dimension: 'length', usual: 'nm' } },
	compute: ({ apparent, tilt }) => ({ thickness: surfaceExtentM(apparent, tilt) }),
	denominators: ({ tilt }) => ({ cosT: Math.cos(tilt) }),
	question: ({ apparent, viewHalf }) => beyondView(apparent, viewHalf),
	say: (_, { thickness }) => [{ key: 'trueThickness', parameters: { thicknessM: thickness } }]
});

const beyondView = (apparentM: number, viewHalfM: number | undefined) =>
	viewHalfM !== undefined && apparentM > 2 * viewHalfM
		? ({ key: 'apparentBeyondView', parameters: { apparentM, viewHalfM } } as const)
		: undefined;
