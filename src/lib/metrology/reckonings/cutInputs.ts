import { quantity, size } from '../inputs';
import { rateRow, rateRows, type RateRow } from '../rates';
import type { Refusal } from '../reckoning';
import { beamTimeS } from '../cutting';

/** What every cut and deposit is asked for: current, material or rate, redeposition; and the times that follow from a volume. */

const um = 1e-6;

export const current = quantity(
	'current',
	'beam current',
	{ usual: 'nA', min: 1e-13, max: 1e-5 },
	{ source: 'setting of the beam' }
);

export const rate = quantity(
	'volumePerCharge',
	'volume per charge, where it is known from own cuts',
	{ usual: 'µm³/nC', min: 1e-14, max: 1e-7 },
	{ optional: true, source: 'own cuts (calibration), else the material’s row' }
);

export const redeposition = quantity(
	'ratio',
	'how many times longer than flat, shallow cuts it takes',
	{ usual: '', min: 0.5, max: 20 },
	{ default: 1, source: 'not learned yet: 1; learn it from own cuts' }
);

const idsOf = (...processes: RateRow['process'][]): string[] =>
	rateRows.filter((row) => processes.includes(row.process)).map(({ id }) => id);

export const millMaterial = {
	kind: 'choice',
	options: ['own', ...idsOf('mill')],
	default: 'own',
	source: 'rates table (each row with its source)',
	what: 'material, for its default rate; own: give the rate'
} as const;

export const depositMaterial = {
	...millMaterial,
	options: ['own', ...idsOf('ion deposit', 'electron deposit')],
	what: 'deposit and beam, for its default rate and window; own: give the rate'
} as const;

/** Sizes of cuts and deposits: 1 nm to 1 mm. */
export const cutSize = (what: string) => size(what, { min: 1e-9, max: 1e3 * um });

export const timeOutputs = {
	time: { what: 'beam time', dimension: 'time', usual: 's' },
	volume: { what: 'volume', dimension: 'volume', usual: 'µm³' },
	timeLeast: {
		what: 'beam time at the fastest rate told of this material',
		dimension: 'time',
		usual: 's',
		exact: true
	},
	timeMost: { what: 'beam time at the slowest rate told of this material', dimension: 'time', usual: 's', exact: true }
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
	if (!row) return { refused: 'neither a rate nor a material is given; expected rate=… or material=…' };
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
			parameters: { leastS: timeLeast, mostS: timeMost, source: row.source }
		}
	] as const;
}

/** A cut longer than a whole visit cannot well be meant. */
const longest = 8 * 3600;
export const questionTime = ({ time }: CutTimes) =>
	time > longest ? ({ key: 'longerThanVisit', parameters: { timeS: time } } as const) : undefined;
