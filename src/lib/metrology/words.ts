import { angleText, figures, lengthText, timeText } from './quantityText';

/**
 * What the guide says, as data: a message key and its parameters, so that a screen can translate it.
 * Lengths and angles are numbers in SI with the unit in the parameter's name (`amountM`, `tiltRad`); everything else is
 * a word of a closed list (an axis, a direction, a view) whose own text the translation supplies.
 */
export interface Words {
	readonly key: WordKey;
	readonly parameters: Readonly<Record<string, number | string>>;
}

/** English wordings. `{name}` stands for a parameter; the ending of its name says how it is written (M: length, Rad: angle). */
const english = {
	move: '{axis} {direction} {amountM}, then look again.',
	moveSigned: '{axis} {signedM} (picture goes {direction} in the {view}), then look again.',
	moveUntried:
		'{axis} by {amountM}, so that the picture goes {direction} in the {view}; which sign that is has not been tried on this instrument. Then look again.',
	moveCapped: 'Only part of it: a full move the wrong way could touch.',
	within: 'Within tolerance: {errorM} off, {toleranceM} allowed.',
	offBy: '{errorM} off, ± {uncertaintyM}; {toleranceM} allowed.',
	/** No uncertainty was given: none is claimed. */
	offByUnstated: '{errorM} off; {toleranceM} allowed.',
	noiseFloor: 'Readings this noisy allow no better than {floorM}.',
	beyondView: 'The move would be {amountM}, more than half the view ({viewHalfM}). Is the reading right, and its unit?',
	beyondLimit:
		'The move would be {amountM}, more than the limit set for it ({limitM}). Is the reading right, and its unit?',
	electronFollows: 'The electron view goes {followsM} with it: bring it back with stage Y.',
	height: 'Height {heightM} against the coincidence point.',
	ionShift: 'The ion view shows it {shiftM} from the centre.',
	ridingViews: 'The ion view moves {ionM}, the electron view {electronM}.',
	beamShiftMay: 'Beam shift may take it: {sharePercent} % of its range.',
	beamShiftMayNot: 'Beam shift may not take it: {sharePercent} % of its range. Go back to height and centring.',
	apparentBeyondView:
		'{apparentM} is more than the whole view shows (half of it: {viewHalfM}). Is the reading right, and its unit?',
	trueDepth: 'True depth {depthM}.',
	trueThickness: 'True thickness {thicknessM}.',
	tiltFree: 'Tilt {tiltRad} is within the limits, {marginRad} to spare.',
	tiltBlocked: 'Do not tilt to {tiltRad}: {overRad} beyond the limit.',
	lensFree: '{clearanceM} of space below the lens, {leastM} asked for.',
	lensBlocked: 'Too close: {clearanceM} of space below the lens, {leastM} asked for.',
	beamTime: 'Beam time {timeS}.',
	rateFromTable: 'At the default rate; its range gives {leastS} to {mostS} ({source}). Measure a cut to replace it.',
	rateFromMemory:
		'At the default rate, which is from memory; its range gives {leastS} to {mostS} ({source}). Measure a cut to replace it.',
	longerThanVisit: 'The beam time would be {timeS}, longer than a visit. Are size, current and unit right?',
	depthReached: 'Depth {depthM}.',
	rateFound: 'Rate {cubicMicrometresPerNanocoulomb} µm³/nC.',
	passes: 'One pass takes {passS}; {passes} passes.',
	lessThanOnePass: 'One pass alone takes {passS}, longer than the cut. Is the dwell right, and the spot?',
	density: 'Current density {density} pA/µm².',
	densityTooHigh:
		'Current density {density} pA/µm² is above the window of {least} to {most} pA/µm² ({source}): the beam may cut what it should build.',
	densityTooLow:
		'Current density {density} pA/µm² is below the window of {least} to {most} pA/µm² ({source}): it will grow slowly.',
	currentWanted: 'Current {picoamperes} pA.'
} as const;

export type WordKey = keyof typeof english;

const nouns: Readonly<Record<string, string>> = {
	stageX: 'Stage X',
	stageY: 'Stage Y',
	stageZ: 'Stage Z',
	stageTilt: 'Stage tilt',
	probeX: 'Probe X',
	probeY: 'Probe Y',
	probeZ: 'Probe Z',
	beamShiftX: 'Beam shift X',
	beamShiftY: 'Beam shift Y',
	electron: 'electron view',
	ion: 'ion view',
	side: 'side camera'
};

/** The English sentence for `words`. An unknown parameter name is a programming fault and throws. */
export function inEnglish(words: Words): string {
	return english[words.key].replace(/\{(\w+)\}/g, (_, name: string) => {
		const value = words.parameters[name];
		if (value === undefined) throw new Error(`wording "${words.key}" lacks its parameter "${name}"`);
		if (typeof value === 'string') return nouns[value] ?? value;
		if (name.endsWith('M')) return lengthText(value);
		if (name.endsWith('Rad')) return angleText(value);
		if (name.endsWith('S')) return timeText(value);
		return figures(value);
	});
}
