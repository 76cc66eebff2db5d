import { judgeRounds, moves, type Round } from '$lib/metrology/moves';
import type { Dice } from './metrology-cases';

/** A jaw and a shank whose true offset is known, read with noise and moved as told: what an adjust loop does at the console. */
export interface LoopSetting {
	/** Gap on either side when centred. */
	readonly gapM: number;
	/** Start off centre, as a part of the gap. */
	readonly startShare: number;
	/** Standard deviation of a reading, as a part of what is read. */
	readonly noise: number;
	/** Noise of each reading as a part of the centred gap instead of the one that is read. */
	readonly noiseOfGap?: boolean;
	readonly toleranceShare: number;
	readonly allowedRounds: number;
	/** The sign in the settings is the wrong one for this instrument. */
	readonly wrongSign: boolean;
}

export interface LoopWalked {
	readonly end: 'converged' | 'grows' | 'rounds used up';
	readonly rounds: number;
	readonly moved: boolean;
	/** True offset at the end, as a part of the gap. */
	readonly leftShare: number;
	readonly touched: boolean;
}

export function walkLoop(setting: LoopSetting, roll: Dice): LoopWalked {
	const { gapM, noise } = setting;
	let trueM = setting.startShare * gapM * roll.pick([1, -1]);
	let touched = false;
	const rounds: Round[] = [];
	for (;;) {
		const read = (gap: number) => {
			const sd = noise * (setting.noiseOfGap ? gapM : Math.max(gap, 0));
			return { value: Math.max(0, Math.max(gap, 0) + sd * roll.normal()), uncertainty: sd };
		};
		const told = moves['half-difference'].reckon(
			{ gapLeft: read(gapM + trueM), gapRight: read(gapM - trueM) },
			{ signs: { probeX: 1 }, toleranceM: setting.toleranceShare * gapM }
		);
		if (told.refused !== undefined) throw new Error(told.refused.map(({ key }) => key).join());
		rounds.push({ errorM: told.errorM, uncertaintyM: told.uncertaintyM, correctsM: told.move.correctsM });
		const loop = judgeRounds(rounds, {
			toleranceM: setting.toleranceShare * gapM,
			allowedRounds: setting.allowedRounds
		});
		if (loop.state !== 'go on')
			return {
				end: loop.state,
				rounds: rounds.length,
				moved: rounds.length > 1,
				leftShare: Math.abs(trueM) / gapM,
				touched
			};
		trueM += (setting.wrongSign ? 1 : -1) * told.move.correctsM;
		if (Math.abs(trueM) > gapM) touched = true;
	}
}
