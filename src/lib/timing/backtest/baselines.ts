/**
 * The baselines every better model has to beat. Point predictions, in seconds, for a query at `elapsed` in a run of procedure P:
 *
 *   total  max(0, M − elapsed), M the mean length of P's training runs.
 *   sum    Σ_k f_k·m_k + max(0, m_r − time in the running step r): k over P's steps neither done nor running, m_k the mean duration of
 *          step k where it occurs, f_k the share of P's training runs in which it occurs.
 *   pace   sum × (observed + w)/(expected + w): observed and expected (m_k) time of the steps done so far; w is that of 30, 60, 120, 240,
 *          480, 960 s which has the least mean absolute error on the training runs, each predicted without itself.
 *
 * Quantiles: point + quantile (type 7, linear between order statistics) of the residuals (truth − point) of the training runs, each
 * predicted from the others, within tenths of the share done, elapsed/(elapsed + point); never below zero.
 */
import { quantileOfSorted } from '../quantile';
import type { FitModel, FittedModel } from './model';
import { ProcedureMeans } from './procedure-means';
import { queriesOf, type AskedQuery, type Query } from './query';
import type { RecordedRun } from './recorded-run';

type Point = (means: ProcedureMeans, query: Query) => number;

const total: Point = (means, query) => Math.max(0, means.meanTotalS(query.procedure) - query.elapsedS);

const sum: Point = (means, query) => {
	if (!means.knows(query.procedure)) return total(means, query);
	const past = new Set(query.done.map((step) => step.key)).add(query.running.key);
	const running = Math.max(0, means.meanStepS(query.procedure, query.running.key) - query.inStepS);
	return running + means.expectedS(query.procedure, past);
};

const paced = (weightS: number): Point => {
	return (means, query) => {
		let observedS = weightS;
		let expectedS = weightS;
		for (const step of query.done) {
			observedS += step.durationS;
			expectedS += means.knows(query.procedure) ? means.meanStepS(query.procedure, step.key) : step.durationS;
		}
		return (sum(means, query) * observedS) / expectedS;
	};
};

interface Residual {
	readonly share: number;
	readonly residualS: number;
}

const TENTHS = 10;
const tenth = (elapsedS: number, pointS: number): number =>
	elapsedS <= 0 ? 0 : Math.min(TENTHS - 1, Math.floor((TENTHS * elapsedS) / (elapsedS + pointS)));

/** Residuals of each training run, predicted from the others. */
function residuals(means: ProcedureMeans, train: readonly RecordedRun[], everyS: number, point: Point): Residual[] {
	return train.flatMap((run) => {
		const asked: AskedQuery[] = queriesOf(run, everyS);
		return means.without(run, () =>
			asked.map((query) => {
				const pointS = point(means, query);
				return { share: tenth(query.elapsedS, pointS), residualS: query.leftS - pointS };
			})
		);
	});
}

function withResiduals(means: ProcedureMeans, found: readonly Residual[], point: Point): FittedModel {
	const byShare = Array.from({ length: TENTHS }, (_, share) =>
		found.filter((each) => each.share === share).map((each) => each.residualS)
	);
	const all = found.map((each) => each.residualS);
	const sorted = byShare.map((each) => (each.length >= 10 ? each : [...all]).sort((a, b) => a - b));
	return {
		predict(query) {
			const pointS = point(means, query);
			const spread = sorted[tenth(query.elapsedS, pointS)] ?? [];
			const at = (p: number): number => Math.max(0, pointS + (spread.length > 0 ? quantileOfSorted(spread, p) : 0));
			return { p10S: at(0.1), p50S: at(0.5), p90S: at(0.9) };
		}
	};
}

const fit =
	(points: readonly Point[]): FitModel =>
	(train, { everyS }) => {
		const means = new ProcedureMeans(train);
		const tried = points.map((point) => {
			const found = residuals(means, train, everyS, point);
			return { point, found, lossS: found.reduce((loss, each) => loss + Math.abs(each.residualS), 0) };
		});
		const best = tried.reduce((a, b) => (b.lossS < a.lossS ? b : a));
		return withResiduals(means, best.found, best.point);
	};

export const fitTotal = fit([total]);
export const fitSum = fit([sum]);
export const fitPace = fit([30, 60, 120, 240, 480, 960].map(paced));
