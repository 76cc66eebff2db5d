import type { Axis, Direction, View } from './axes';
import type { Dimension } from './units';

/**
 * What is said, as data: the key of a sentence and what fills it. The sentences stand in the message library and are put together at
 * the edge (src/lib/session/move-words.ts, sum-words.ts), so that nothing here knows a language.
 *
 * The ending of a number's name is its unit: M metre, Rad radian, S second; else it is a plain number. A string is an id of a closed
 * list, the name of an input, or a quantity that is written already ("5°").
 */
type None = Readonly<Record<never, never>>;

/** Sentences of moves: everything that an adjust step can say. */
export type MoveParameters = {
	move: { axis: Axis; direction: Direction; amountM: number };
	moveSigned: { axis: Axis; signedM: number; direction: Direction; view: View };
	moveUntried: { axis: Axis; amountM: number; direction: Direction; view: View };
	moveCapped: None;
	within: { errorM: number; toleranceM: number };
	offBy: { errorM: number; uncertaintyM: number; toleranceM: number };
	/** No uncertainty was given: none is claimed. */
	offByUnstated: { errorM: number; toleranceM: number };
	noiseFloor: { floorM: number };
	beyondView: { amountM: number; viewHalfM: number };
	beyondLimit: { amountM: number; limitM: number };
	electronFollows: { followsM: number };
	beamShiftMay: { sharePercent: number };
	beamShiftMayNot: { sharePercent: number };
	// why there is none
	wouldPress: { axis: Axis };
	alongIonBeam: { tiltRad: number; columnRad: number; changeRad: number };
	tiltTooSmall: { fromRad: number; toRad: number; sine: number };
	tiltUntried: None;
	tooUncertain: None;
	tooUncertainForMove: None;
	// what is wrong with what was given
	noSuchInput: { sum: string; input: string; inputs: string };
	quantityMissing: { input: string; least: string; most: string; dimension: Dimension };
	outOfRange: { input: string; value: string; least: string; most: string; dimension: Dimension };
	choiceMissing: { input: string; options: string };
	noSuchOption: { input: string; option: string; options: string };
	badUncertainty: { input: string; given: number };
};

/** Sentences of the other sums. */
export type SumParameters = {
	ionShift: { shiftM: number };
	ridingViews: { ionM: number; electronM: number };
	apparentBeyondView: { apparentM: number; viewHalfM: number };
	trueDepth: { depthM: number };
	trueThickness: { thicknessM: number };
	tiltFree: { tiltRad: number; marginRad: number };
	tiltBlocked: { tiltRad: number; overRad: number };
	lensFree: { clearanceM: number; leastM: number };
	lensBlocked: { clearanceM: number; leastM: number };
	beamTime: { timeS: number };
	/** `material`: row of rates.ts, whose source is told. */
	rateFromTable: { leastS: number; mostS: number; material: string };
	rateFromMemory: { leastS: number; mostS: number; material: string };
	longerThanVisit: { timeS: number };
	depthReached: { depthM: number };
	rateFound: { cubicMicrometresPerNanocoulomb: number };
	passes: { passS: number; passes: number };
	lessThanOnePass: { passS: number };
	density: { density: number };
	densityTooHigh: { density: number; least: number; most: number; material: string };
	densityTooLow: { density: number; least: number; most: number; material: string };
	currentWanted: { picoamperes: number };
	// why there is none
	tiltLimitsSwapped: None;
	polygonCrosses: None;
	polygonFlat: None;
	noRate: None;
	// what is wrong with what was given
	cornersMissing: { input: string; least: number; most: number; unit: string };
	cornerCount: { input: string; count: number; least: number; most: number };
	noCorners: { text: string; least: number; most: number; unit: string };
	cornerBeyond: { input: string; most: string };
	noQuantity: { text: string; dimension: Dimension };
	noUnit: { text: string; dimension: Dimension };
	unitRefused: { unit: string; dimension: Dimension };
	spreadUnitRefused: { unit: string; dimension: Dimension };
	tooLarge: { text: string };
};

export type WordParameters = MoveParameters & SumParameters;
export type WordKey = keyof WordParameters;
export type MoveKey = keyof MoveParameters;
export type SumKey = keyof SumParameters;

export type WordsOf<K extends WordKey> = {
	[Key in K]: { readonly key: Key; readonly parameters: Readonly<WordParameters[Key]> };
}[K];
export type Words = WordsOf<WordKey>;
export type MoveWords = WordsOf<MoveKey>;
