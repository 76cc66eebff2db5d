import type { Report } from './report';
import { below, type Where } from './report';
import type { RawStep } from './unfold';
import { durationMs } from './words';

/** A minute: what a step is planned with where neither it nor its stage says more. */
const defaultStepMs = 60_000;

/**
 * Planned time of each step of a stage, by path, and of the stage. Steps without a plan share what their stage's plan
 * leaves; a wait takes at least its own time.
 */
export function plannedTimes(steps: readonly RawStep[], plan: string | undefined, where: Where, report: Report): { byPath: [string, number][]; totalMs: number } {
	const own = steps.map(({ text }) => (text.plan !== undefined ? durationMs(text.plan) : text.for !== undefined ? durationMs(text.for) : null));
	const given = own.reduce<number>((sum, ms) => sum + (ms ?? 0), 0);
	const open = own.filter((ms) => ms === null).length;
	const totalMs = plan === undefined ? given + open * defaultStepMs : durationMs(plan);
	if (given > totalMs) report.add(below(where, 'plan'), `the steps' plans add up to ${given / 60_000} min, more than the stage's ${totalMs / 60_000} min; expected no more`);
	const share = open === 0 ? 0 : Math.max(0, Math.round((totalMs - given) / open));
	return { byPath: steps.map((step, i) => [step.path, own[i] ?? share]), totalMs };
}
