/**
 * What simulated half-difference loops did, for the screen that states how far a told "wrong sign" can be trusted. Noise 5 % of each
 * reading, tolerance 9 % of the gap, three rounds; measured by tests/bench/metrology.bench.ts, held by tests/simulation. Percentages.
 */
export const loopFigures = {
	/** Loops of each kind. */
	n: 10_000,
	/** Wrong sign told by round 2, starts uniform over 10 to 90 % of the gap off. */
	wrongSignToldPercent: 98.8,
	/** The same for starts exactly 10 % off: the others read as within the tolerance at once, so nothing moved. */
	wrongSignToldClosePercent: 60.6
} as const;
