import { quantity, size } from '../inputs';
import { rateRow, rateRows, type RateRow } from '../rates';
import type { Refusal } from '../reckoning';
import { beamTimeS } from '../cutting';

/** What every cut and deposit is asked for: current, material or rate, redeposition; and the times that follow from a volume. */

const um = 1e-6;

/** beam current */
export const current = quantity('current', { usual: 'nA', min: 1e-13, max: 1e-5 }, { source: 'beam' });

/** volume per charge, where it is known from own cuts */
export const rate = quantity('volumePerCharge', { usual: 'µm³/nC', min: 1e-14, max: 1e-7 }, { optional: true, source: 'ownCuts' });

/** how many times longer than flat, shallow cuts it takes */
export const redeposition = quantity('ratio', { usual: '', min: 0.5, max: 20 }, { default: 1, source: 'redeposition' });

const idsOf = (...processes: RateRow['process'][]): string[] =>
	rateRows.filter((row) => processes.includes(row.process)).map(({ id }) => id);

/** Material, for its default rate; own: the rate is given. */
export const millMaterial = {
	kind: 'choice',
	options: ['own', ...idsOf('mill')],
	default: 'own',
	source: 'rates'
} as const;

/** Deposit and beam, for its default rate and window; own: the rate is given. */
export const depositMaterial = {
	...millMaterial,
	options: ['own', ...idsOf('ion deposit', 'electron deposit')]
} as const;

/** Sizes of cuts and deposits: 1 nm to 1 mm. */
export const cutSize = size({ min: 1e-9, max: 1e3 * um });

export const timeOutputs = {
	/** beam time */
	time: { dimension: 'time', usual: 's' },
	volume: { dimension: 'volume', usual: 'µm³' },
	/** beam time at the fastest rate told of this material */
	timeLeast: { dimension: 'time', usual: 's', exact: true },
	/** beam time at the slowest rate told of this material */
	timeMost: { dimension: 'time', usual: 's', exact: true }
} as const;

export interface CutTimes {
	readonly time: number;
	readonly volume: number;
	readonly timeLeast: number;
	readonly timeMost: number;
}

interface Asked {
	readonly current: number;
	readonly material: string;
	readonly rate: number | undefined;
	/** 1 where it is not asked for: a deposit. */
	readonly redeposition?: number;
}

/** Times for a volume; a given rate goes before the material's row and has no range of its own. */
export function timesFor(volume: number, { current, material, rate, redeposition }: Asked): CutTimes | Refusal {
	if (rate !== undefined) {
		const time = beamTimeS(volume, rate, current, redeposition);
		return { time, volume, timeLeast: time, timeMost: time };
	}
	const row = rateRow(material);
	if (!row) return { refused: { key: 'noRate', parameters: {} } };
	const at = (rateM3PerC: number): number => beamTimeS(volume, rateM3PerC, current, redeposition);
	return { time: at(row.rate), volume, timeLeast: at(row.most), timeMost: at(row.least) };
}

/** Words of a beam time, with the rate in use. */
export function timeWords(
	{ material, rate }: Pick<Asked, 'material' | 'rate'>,
	{ time, timeLeast, timeMost }: CutTimes
) {
	const row = rateRow(material);
	if (rate !== undefined || !row) return [{ key: 'beamTime', parameters: { timeS: time } }] as const;
	return [
		{ key: 'beamTime', parameters: { timeS: time } },
		{
			key: row.fromMemory ? 'rateFromMemory' : 'rateFromTable',
			parameters: { leastS: timeLeast, mostS: timeMost, material }
		}
	] as const;
}

/** A cut longer than a whole visit cannot well be meant. */
const longest = 8 * 3600;
export const questionTime = ({ time }: CutTimes) =>
	time > longest ? ({ key: 'longerThanVisit', parameters: { timeS: time } } as const) : undefined;
