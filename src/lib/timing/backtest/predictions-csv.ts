/** Predictions as CSV: run_id,elapsed_s,p10_s,p50_s,p90_s, seconds left. */
import type { ScoredQuery } from './score';

const cell = (text: string): string => (/[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);

export function predictionsCsv(scored: readonly ScoredQuery[]): string {
	const lines = scored.map(({ runId, elapsedS, p10S, p50S, p90S }) =>
		[cell(runId), ...[elapsedS, p10S, p50S, p90S].map((seconds) => seconds.toFixed(3))].join(',')
	);
	return ['run_id,elapsed_s,p10_s,p50_s,p90_s', ...lines].join('\n') + '\n';
}
