/**
 * Two-beam geometry: electron axis vertical (z up), tilt about x, ion column at angle θ from the electron column in the y–z
 * plane, stage tilt T. All lengths m, angles rad. Derived from projections: a view sees the component of a displacement that is
 * at right angles to its beam. Electron view: y. Ion view: y·cosθ − z·sinθ.
 */

/** Shift v seen in the ion view for a displacement (Δy, Δz): v = Δy·cosθ − Δz·sinθ. */
export const ionShiftM = (dyM: number, dzM: number, columnAngleRad: number): number =>
	dyM * Math.cos(columnAngleRad) - dzM * Math.sin(columnAngleRad);

/** Height Δz from the shift v in the ion view and the offset Δy left in the electron view: Δz = (Δy·cosθ − v)/sinθ. */
export const heightM = (ionShift: number, dyM: number, columnAngleRad: number): number =>
	(dyM * Math.cos(columnAngleRad) - ionShift) / Math.sin(columnAngleRad);

/**
 * What both views see when a Z axis that rides on the tilt moves by δ: the axis points along (y, z) = (sinT, cosT), so the
 * electron view moves δ·sinT and the ion view δ·(sinT·cosθ − cosT·sinθ) = δ·sin(T − θ).
 */
export const ridingZViews = (
	moveM: number,
	tiltRad: number,
	columnAngleRad: number
): { electronM: number; ionM: number } => ({
	electronM: moveM * Math.sin(tiltRad),
	ionM: moveM * Math.sin(tiltRad - columnAngleRad)
});

/** sinT₂ − sinT₁, by the product form, which does not cancel for close angles. */
export const sineStep = (fromRad: number, toRad: number): number =>
	2 * Math.cos((fromRad + toRad) / 2) * Math.sin((toRad - fromRad) / 2);

/** cosT₂ − cosT₁, by the product form. */
export const cosineStep = (fromRad: number, toRad: number): number =>
	-2 * Math.sin((fromRad + toRad) / 2) * Math.sin((toRad - fromRad) / 2);

/**
 * Height h above the tilt axis from the shift Δy in the electron view between two tilts, for a feature at lateral offset y₀:
 * Δy = h·(sinT₂ − sinT₁) + y₀·(cosT₂ − cosT₁). (Sense of tilt: a feature above the axis moves to +y.)
 */
export const heightOffAxisM = (shiftM: number, fromRad: number, toRad: number, lateralM: number): number =>
	(shiftM - lateralM * cosineStep(fromRad, toRad)) / sineStep(fromRad, toRad);

/** The same from −T to +T, which cancels y₀: h = Δy/(2·sinT). */
export const heightFromBothTiltsM = (shiftM: number, tiltRad: number): number => shiftM / (2 * Math.sin(tiltRad));

/** Depth on a face parallel to the ion beam, seen by electrons at angle θ to that face: d = d_app/sinθ. */
export const faceDepthM = (apparentM: number, columnAngleRad: number): number => apparentM / Math.sin(columnAngleRad);

/** Extent along y of a surface tilted by T, seen from above: t = t_app/cosT; a lamella's top edge at T = θ is the usual case. */
export const surfaceExtentM = (apparentM: number, tiltRad: number): number => apparentM / Math.cos(tiltRad);

/**
 * Space between the lens and the highest point of a holder: the lens ends a working distance above the tilt axis; a point at
 * distance `reachM` from the axis on the rising side and `aboveM` over it stands at reach·sin|T| + above·cosT.
 */
export const lensClearanceM = (workingDistanceM: number, reachM: number, aboveM: number, tiltRad: number): number =>
	workingDistanceM - (reachM * Math.sin(Math.abs(tiltRad)) + aboveM * Math.cos(tiltRad));
