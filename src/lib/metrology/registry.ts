import type { Reckoning } from './reckoning';
import { depth, thickness } from './reckonings/apparent';
import { halfDifference } from './reckonings/centring';
import { lensClearance, tiltClearance } from './reckonings/clearance';
import { cleaningCut, depthInTime, passes, polygon, rateFromCut, rectangle, trench, yieldRate } from './reckonings/cut';
import { density, deposit, patternCurrent } from './reckonings/deposit';
import { heightFromBothTilts, heightFromIonShift, heightFromTilt, ridingZ } from './reckonings/height';
import { ionShift, residue, ridingViews } from './reckonings/views';

/** Every reckoning there is, in the order in which `handrail reckon --list` shows them. */
export const reckonings: readonly Reckoning[] = [
	halfDifference.reckoning,
	heightFromIonShift.reckoning,
	ridingZ.reckoning,
	ridingViews,
	ionShift,
	heightFromTilt.reckoning,
	heightFromBothTilts.reckoning,
	residue.reckoning,
	depth,
	thickness,
	tiltClearance,
	lensClearance,
	trench,
	rectangle,
	polygon,
	cleaningCut,
	deposit,
	density,
	patternCurrent,
	depthInTime,
	passes,
	rateFromCut,
	yieldRate
];

/** The reckoning of that name, or undefined. */
export const reckoningNamed = (name: string): Reckoning | undefined =>
	reckonings.find((reckoning) => reckoning.name === name);
