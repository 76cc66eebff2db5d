import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { MODELS, type ModelName } from './models';
import { pairedDifference } from './paired';
import { queriesOf } from './query';
import { readRecordedCsv } from './recorded-csv';
import { recordedRuns, type RecordedRun } from './recorded-run';
import { absoluteError, pinball, scores, type ScoredQuery } from './score';
import { crossValidated } from './validate';
import { foldOfEach } from './folds';

const file = new URL('../../../../tests/fixtures/timing/recipes-three.csv', import.meta.url);
const runs = recordedRuns(readRecordedCsv(readFileSync(file, 'utf8')).rows);
const how = { everyS: 30, seed: 1 };
const names = Object.keys(MODELS) as ModelName[];

/** The same run up to its `place`-th step, then steps and times that never were. */
function otherFuture(run: RecordedRun, place: number): RecordedRun {
	const kept = run.steps.slice(0, place);
	const beginS = run.steps[place]!.beginS;
	const running = { ...run.steps[place]!, durationS: 10_000 };
	const invented = { key: 'invented', name: 'invented', visit: 1, beginS: beginS + 10_000, durationS: 5 };
	return { ...run, steps: [...kept, running, invented], totalS: beginS + 10_005 };
}

describe.each(names)('the model %s', (name) => {
	it('is blind to the future of the run being forecast', () => {
		const test = runs[3]!;
		const model = MODELS[name](
			runs.filter((run) => run !== test),
			how
		);
		for (const place of [0, 4, test.steps.length - 1]) {
			const at = (run: RecordedRun) =>
				queriesOf(run, 30).find((query) => query.done.length === place && query.inStepS === 0)!;
			expect(model.predict(at(otherFuture(test, place)))).toEqual(model.predict(at(test)));
		}
	});

	it('gives the same numbers for the same seed, rising from P10 to P90, none below zero', () => {
		const once = crossValidated(MODELS[name], runs.slice(0, 20), 4, how);
		expect(crossValidated(MODELS[name], runs.slice(0, 20), 4, how)).toEqual(once);
		for (const { p10S, p50S, p90S } of once) {
			expect(p10S).toBeGreaterThanOrEqual(0);
			expect(p50S).toBeGreaterThanOrEqual(p10S);
			expect(p90S).toBeGreaterThanOrEqual(p50S);
		}
	});

	it('answers for an unknown procedure, operator and step', () => {
		const stranger: RecordedRun = {
			runId: 'x',
			operator: 'nobody',
			procedure: 'unheard of',
			steps: [{ key: 's', name: 's', visit: 1, beginS: 0, durationS: 40 }],
			totalS: 40
		};
		const [query] = queriesOf(stranger, 30);
		const { p50S, p90S } = MODELS[name](runs, how).predict(query!);
		expect(p50S).toBeGreaterThan(0);
		expect(Number.isFinite(p90S)).toBe(true);
	});
});

it('the full model beats the pace baseline on these three recipes, in error and in pinball loss', () => {
	const full = scores(crossValidated(MODELS.full, runs, 5, how));
	const pace = scores(crossValidated(MODELS.pace, runs, 5, how));
	expect(full.maeMin).toBeLessThan(pace.maeMin);
	expect(full.pinballMin).toBeLessThan(pace.pinballMin);
});

describe('scores', () => {
	const query = (runId: string, leftS: number, p50S: number): ScoredQuery => ({
		runId,
		operator: 'A',
		elapsedS: 0,
		leftS,
		p10S: p50S - 60,
		p50S,
		p90S: p50S + 60
	});

	it('pinball loss weighs a miss by the side it lies on', () => {
		expect(pinball(0.9, 10, 0)).toBeCloseTo(9, 12);
		expect(pinball(0.9, 0, 10)).toBeCloseTo(1, 12);
	});

	it('means in minutes, coverage with its ends included', () => {
		const got = scores([query('a', 600, 600), query('a', 600, 540), query('b', 600, 420)]);
		expect(got.maeMin).toBeCloseTo((0 + 1 + 3) / 3, 12);
		expect(got.coverage).toBeCloseTo(2 / 3, 12);
	});

	it('paired difference: sign, mean, an interval that holds it, and refusal of queries that are not the same', () => {
		const first = Array.from({ length: 40 }, (_, index) => query(`r${index}`, 600, 600 + (index % 5) * 12));
		const second = first.map((each) => ({ ...each, p50S: each.p50S + 60 }));
		const { differenceMin, intervalMin, clusters } = pairedDifference(
			first,
			second,
			absoluteError,
			(each) => each.runId,
			1
		);
		expect(differenceMin).toBeCloseTo(-1, 12);
		expect(intervalMin[0]).toBeLessThanOrEqual(-1 + 1e-9);
		expect(intervalMin[1]).toBeGreaterThanOrEqual(-1 - 1e-9);
		expect(clusters).toBe(40);
		expect(() => pairedDifference(first, [...second].reverse(), absoluteError, (each) => each.runId, 1)).toThrow(
			'query 0 is of run "r0" and of run "r39"'
		);
	});

	it('folds differ in size by one at most and change with the seed', () => {
		const sizes = (seed: number) =>
			[0, 1, 2].map((fold) => foldOfEach(11, 3, seed).filter((each) => each === fold).length);
		expect(sizes(1).sort()).toEqual([3, 4, 4]);
		expect(foldOfEach(11, 3, 1)).not.toEqual(foldOfEach(11, 3, 2));
	});
});
