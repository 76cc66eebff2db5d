import { calibrate, predictTimeS, type MeasuredCut } from '$lib/metrology/calibration';
import { reckonings } from '$lib/metrology/registry';
import { solve, type Given, type Solved } from '$lib/metrology/solve';
import { dice, drawQuestion, monteCarlo, shareBelow, type Dice } from '../simulation/metrology-cases';
import { walkLoop, type LoopSetting } from '../simulation/metrology-loops';
import type { Figure } from './figure';

/** Figures of the reckonings: uncertainty against plain Monte Carlo, adjust loops, calibration, time. All from fixed seeds. */
export async function figures(): Promise<Figure[]> {
	return [...uncertainty(1_000_000, 2), ...loops(10_000), ...calibration(10_000), ...time(100)];
}

const monteCarloSource = 'plain Monte Carlo over the formula, Box and Muller normals, fixed seeds';

function* questions(
	each: number,
	worst: number,
	seed: number
): Generator<{ reckoning: (typeof reckonings)[number]; given: Record<string, Given>; solved: Solved; roll: Dice }> {
	for (const [index, reckoning] of reckonings.entries()) {
		const roll = dice(seed + index);
		let found = 0;
		for (let i = 0; found < each && i < 100 * each; i++) {
			const given = drawQuestion(reckoning, roll, worst);
			const solved = solve(reckoning, given);
			if (solved.kind !== 'solved') continue;
			found++;
			yield { reckoning, given, solved, roll };
		}
	}
}

function uncertainty(draws: number, each: number): Figure[] {
	let compared = 0;
	let worst = { by: 0, name: '' };
	let intervals = 0;
	let worstHeld = { by: 0, name: '' };
	for (const { reckoning, given, solved, roll } of questions(each, 0.12, 7000)) {
		const drawn = monteCarlo(reckoning, solved.used, given, draws, roll);
		for (const [output, { uncertainty: told, interval }] of Object.entries(solved.results)) {
			const name = `${reckoning.name} ${output}`;
			if (interval) {
				intervals++;
				const sorted = drawn.sorted[output]!;
				const by = Math.abs(shareBelow(sorted, interval[1]) - shareBelow(sorted, interval[0]) - 0.95);
				if (by > worstHeld.by) worstHeld = { by, name };
			} else if (told) {
				compared++;
				const by = Math.abs(told / drawn.deviation[output]! - 1);
				if (by > worst.by) worst = { by, name };
			}
		}
	}
	return [
		{
			name: `uncertainty: worst departure from ${draws} draws (${worst.name})`,
			value: 100 * worst.by,
			unit: '%',
			goal: '≤ 5 %',
			n: compared,
			source: monteCarloSource
		},
		{
			name: `intervals where a denominator is uncertain: worst departure of the probability held from 95 % (${worstHeld.name})`,
			value: 100 * worstHeld.by,
			unit: 'percentage points',
			n: intervals,
			source: monteCarloSource
		}
	];
}

/** Share with its 95 % interval (Wilson, 1927). */
function share(hits: number, n: number): { value: number; n: number; interval: [number, number] } {
	const z = 1.96;
	const p = hits / n;
	const middle = (p + (z * z) / (2 * n)) / (1 + (z * z) / n);
	const half = (z / (1 + (z * z) / n)) * Math.sqrt((p * (1 - p)) / n + (z * z) / (4 * n * n));
	return { value: 100 * p, n, interval: [100 * (middle - half), 100 * (middle + half)] };
}

function loops(n: number): Figure[] {
	const base = { gapM: 20e-6, noise: 0.05, toleranceShare: 0.09, allowedRounds: 3, wrongSign: false };
	const walk = (seed: number, more: Partial<LoopSetting>, least = 0.1, most = 0.9) => {
		const roll = dice(seed);
		return Array.from({ length: n }, () => walkLoop({ ...base, ...more, startShare: roll.uniform(least, most) }, roll));
	};
	const source = 'simulated jaws with a known true offset; start uniform over the stated part of the gap';
	const figures: Figure[] = [];
	for (const [words, more] of [
		['noise 5 % of each reading', {}],
		['noise 5 % of the gap', { noiseOfGap: true }]
	] as const) {
		const right = walk(71, more);
		const converged = right.filter(({ end }) => end === 'converged');
		figures.push(
			{
				name: `loops converge in ≤ 3 rounds, start 10–90 % off, ${words}`,
				...share(converged.length, n),
				unit: '%',
				goal: '≥ 95 %',
				source
			},
			{
				name: `of those, true offset within the tolerance, ${words}`,
				...share(converged.filter(({ leftShare }) => leftShare <= 0.09).length, converged.length),
				unit: '%',
				source
			},
			{
				name: `right sign taken for wrong, ${words}`,
				...share(right.filter(({ end }) => end === 'grows').length, n),
				unit: '%',
				source
			}
		);
		for (const [range, least, most] of [
			['10–90 %', 0.1, 0.9],
			['10–45 % (no contact)', 0.1, 0.45],
			['exactly 10 %', 0.1, 0.1]
		] as const) {
			const wrong = walk(72, { ...more, wrongSign: true }, least, most);
			const moved = wrong.filter((each) => each.moved);
			const told = moved.filter(({ end, rounds }) => end === 'grows' && rounds === 2).length;
			figures.push(
				{
					name: `wrong sign told by round 2, start ${range} off, of loops that moved, ${words}`,
					...share(told, moved.length),
					unit: '%',
					goal: '≥ 95 %',
					source
				},
				{
					name: `wrong sign told by round 2, start ${range} off, of all loops, ${words}`,
					...share(told, n),
					unit: '%',
					source
				}
			);
		}
	}
	for (const toleranceShare of [0.05, 0.07, 0.09, 0.12]) {
		const walks = walk(73, { toleranceShare });
		figures.push({
			name: `curve: converge in ≤ 3 rounds at tolerance ${(100 * toleranceShare).toFixed(0)} % of the gap`,
			...share(walks.filter(({ end }) => end === 'converged').length, n),
			unit: '%',
			source
		});
	}
	return figures;
}

/** How cuts scatter: by a part of themselves (log-normal rate), by the root of the volume, or by the same amount whatever the size. */
const scatters: Readonly<Record<string, (volumeM3: number, roll: Dice) => number>> = {
	'log-normal 15 %': (volume, roll) => volume * Math.exp(0.15 * roll.normal()),
	'log-normal 30 %': (volume, roll) => volume * Math.exp(0.3 * roll.normal()),
	'normal 10 %': (volume, roll) => volume * (1 + 0.1 * roll.normal()),
	'grain: root of the volume': (volume, roll) => volume * (1 + 0.15 * Math.sqrt(1e-17 / volume) * roll.normal())
};

function calibration(trials: number): Figure[] {
	return Object.entries(scatters).flatMap(([words, scatter], kind) =>
		[5, 8, 20].map((cuts): Figure => {
			const roll = dice(7400 + 100 * kind + cuts);
			const measure = (): MeasuredCut => {
				const volumeM3 = 1e-17 * Math.exp(roll.uniform(0, 5));
				const currentA = roll.pick([1e-10, 1e-9, 1e-8]);
				return {
					volumeM3: volumeM3 * (1 + 0.03 * roll.normal()),
					currentA,
					timeS: scatter(volumeM3, roll) / (0.2e-9 * currentA)
				};
			};
			let covered = 0;
			for (let i = 0; i < trials; i++) {
				const fitted = calibrate(Array.from({ length: cuts }, measure));
				const next = measure();
				const { interval } = predictTimeS(fitted, next.volumeM3, next.currentA);
				if (next.timeS >= interval.least && next.timeS <= interval.most) covered++;
			}
			const source = 'simulated cuts of a known rate, volumes over a factor of 150 read with 3 % error';
			return {
				name: `90 % prediction interval covers, ${cuts} cuts, scatter ${words}`,
				...share(covered, trials),
				unit: '%',
				goal: '85–95 %',
				source
			};
		})
	);
}

function time(each: number): Figure[] {
	const spent = new Map<string, number[]>();
	const first: number[] = [];
	for (const worst of [0.05, 0.3])
		for (const { reckoning, given } of questions(each, worst, 7600)) {
			const from = process.cpuUsage();
			solve(reckoning, given);
			const { user, system } = process.cpuUsage(from);
			const tookMs = (user + system) / 1000;
			const list = spent.get(reckoning.name) ?? [];
			if (list.length === 0) first.push(tookMs);
			list.push(tookMs);
			spent.set(reckoning.name, list);
		}
	const at = (list: number[], p: number): number => [...list].sort((a, b) => a - b)[Math.floor(p * (list.length - 1))]!;
	const slowest = [...spent].sort(([, a], [, b]) => at(b, 0.95) - at(a, 0.95)).slice(0, 3);
	const all = [...spent.values()].flat();
	// the processor's time, not the wall's: what else this machine does is no cost of a sum
	const source = 'processor time of one call with what the runtime does beside it, this machine';
	return [
		{ name: 'time of a reckoning, median', value: at(all, 0.5), unit: 'ms', goal: '≤ 1 ms', n: all.length, source },
		{
			name: 'time of a reckoning, 95 % of calls',
			value: at(all, 0.95),
			unit: 'ms',
			goal: '≤ 1 ms',
			n: all.length,
			source
		},
		{
			name: 'time of a reckoning, worst of the first calls (code not yet compiled)',
			value: Math.max(...first),
			unit: 'ms',
			goal: '≤ 1 ms',
			n: first.length,
			source
		},
		...slowest.flatMap(([name, list]): Figure[] =>
			([['median', 0.5], ['95 % of calls', 0.95]] as const).map(([which, part]) => ({ name: `slowest: ${name}, ${which}`, value: at(list, part), unit: 'ms', goal: '≤ 1 ms', n: list.length, source }))
		)
	];
}
