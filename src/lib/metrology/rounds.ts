/**
 * The adjust loop as a pure function over its rounds so far: measure → move → measure, until within tolerance, until the
 * allowed rounds are used up, or until the error has grown, which means that the sign of the move is wrong.
 */

export interface Round {
	/** Error as measured in this round, signed along the measured direction, in m. */
	readonly errorM: number;
	/** Standard uncertainty of it, in m. */
	readonly uncertaintyM?: number;
	/** How much of the error the move after it was to take away, signed like the error; absent for the newest round. */
	readonly correctsM?: number;
}

export type LoopState =
	/** No round yet, or the newest one still asks for its move. */
	| { readonly state: 'go on'; readonly roundsLeft: number; readonly noiseFloorM: number | null }
	| { readonly state: 'converged'; readonly rounds: number }
	/**
	 * The error is larger than before the move. `response` is the part of the asked correction that happened: near −1 the sign
	 * is wrong; near 0 nothing moved or the wrong axis did; above 2 the move overshoots (a wrong unit or scale). `wrongSign` is
	 * true from −0.5 down.
	 */
	| { readonly state: 'grows'; readonly round: number; readonly response: number; readonly wrongSign: boolean }
	/** `noiseFloorM`: the best that readings this noisy allow; a tolerance below it explains why rounds ran out. */
	| { readonly state: 'rounds used up'; readonly noiseFloorM: number | null };

/**
 * Two readings of one error (before and after a move) leave √2 of its standard uncertainty; 1.8 of that holds about 93 %
 * (normal), which with a third round makes better than 95 %: a tolerance below this keeps an operator chasing noise.
 */
const noiseFactor = 1.8 * Math.SQRT2;

/** Best tolerance, in m, that readings with this standard uncertainty of the error (m) allow. */
export const noiseFloorM = (uncertaintyM: number): number => noiseFactor * uncertaintyM;

/**
 * Where the loop stands after `rounds`. `allowedRounds` counts measurements. Throws a RangeError for a tolerance or a
 * number of rounds that is not positive, or an error that is not a number.
 */
export function judgeRounds(
	rounds: readonly Round[],
	limits: { toleranceM: number; allowedRounds: number }
): LoopState {
	const { toleranceM, allowedRounds } = limits;
	if (!(toleranceM > 0)) throw new RangeError(`tolerance is ${toleranceM} m; expected a length above 0`);
	if (!(allowedRounds >= 1)) throw new RangeError(`allowed rounds are ${allowedRounds}; expected at least 1`);
	const newest = rounds.at(-1);
	const floor = newest?.uncertaintyM === undefined ? null : noiseFloorM(newest.uncertaintyM);
	if (!newest) return { state: 'go on', roundsLeft: allowedRounds, noiseFloorM: floor };
	if (!Number.isFinite(newest.errorM)) throw new RangeError(`error of round ${rounds.length} is not a number`);
	if (Math.abs(newest.errorM) <= toleranceM) return { state: 'converged', rounds: rounds.length };
	const before = rounds.at(-2);
	if (before) {
		// without a record of what was asked, the whole error was
		const corrects = before.correctsM ?? before.errorM;
		const response = corrects === 0 ? 1 : (before.errorM - newest.errorM) / corrects;
		const grew = response < 0 || (response > 2 && Math.abs(newest.errorM) > Math.abs(before.errorM));
		if (grew) return { state: 'grows', round: rounds.length, response, wrongSign: response <= -0.5 };
	}
	if (rounds.length >= allowedRounds) return { state: 'rounds used up', noiseFloorM: floor };
	return { state: 'go on', roundsLeft: allowedRounds - rounds.length, noiseFloorM: floor };
}
