import { verify } from '$lib/procedure/verify/verify';
import type { Edition } from '$lib/procedure/edition';
import { shipped } from '../simulation/shipped';
import type { Figure } from './figure';
import { generatedVisit } from './generated-visit';

const ROUNDS = 15;

/** Milliseconds of each of `ROUNDS` checks, sorted; every check begins with a fresh copy, so that nothing is kept. */
function timed(edition: Edition): { readonly ms: number[]; readonly states: number; readonly findings: number } {
	const ms: number[] = [];
	let states = 0;
	let findings = 0;
	for (let round = 0; round < ROUNDS; round++) {
		const copy = structuredClone(edition);
		const verdict = verify(copy, { now: () => performance.now() });
		ms.push(verdict.statistics.ms);
		states = verdict.statistics.states;
		findings = verdict.findings.length;
	}
	return { ms: ms.sort((a, b) => a - b), states, findings };
}

const median = (sorted: readonly number[]): number => sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
/** 95 % interval of the median by order statistics (binomial; n = 15: 4th to 12th). */
const interval = (sorted: readonly number[]): readonly [number, number] => [round(sorted[3] ?? Number.NaN), round(sorted[11] ?? Number.NaN)];
const round = (value: number, digits = 1): number => Number(value.toFixed(digits));

export function figures(): Figure[] {
	const visit = timed(shipped());
	const one = timed(generatedVisit(4));
	const ten = timed(generatedVisit(40));
	for (const run of [visit, one, ten]) if (run.findings > 0) throw new Error('a bench edition is not sound');
	const perState = (run: typeof one) => (1000 * median(run.ms)) / run.states;
	return [
		{ name: 'checking the shipped visit', value: round(median(visit.ms)), unit: 'ms', goal: '≤ 500 ms', n: ROUNDS, interval: interval(visit.ms), source: `performance.now, ${visit.states} states` },
		{ name: 'the same per state', value: round(perState(visit), 2), unit: 'µs', n: ROUNDS, source: 'as above' },
		{ name: 'generated visit, per state', value: round(perState(one), 2), unit: 'µs', n: ROUNDS, source: `${one.states} states, ${round(median(one.ms))} ms` },
		{ name: 'ten times larger, per state', value: round(perState(ten), 2), unit: 'µs', n: ROUNDS, source: `${ten.states} states, ${round(median(ten.ms))} ms` },
		{ name: 'ratio of time per state, ten times larger to one', value: round(perState(ten) / perState(one), 2), goal: 'constant (1)', n: ROUNDS, source: 'the two above' }
	];
}
