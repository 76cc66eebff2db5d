import * as m from '$lib/paraglide/messages';
import type { Attempt } from '$lib/run/run-facts';
import { cusumWeights, lcCusumWeights, type Rates } from '$lib/timing/charts/sign-off';
import type { Limits, Standing } from '$lib/timing/charts/sign-off-series';
import { type NotEnough, type PracticeFit, slopeOfExponent } from '$lib/timing/learning';
import type { AgainstGroup, Steadiness } from '$lib/timing/steadiness';

/** Verdicts and their rules in sentences. */

export const percentText = (share: number): string => m.percent({ number: String(Math.round(share * 1000) / 10) });
const whole = (share: number) => m.percent({ number: String(Math.round(share * 100)) });

export const isNotEnough = (found: object | string): found is NotEnough => typeof found === 'object' && 'notEnough' in found;
export const notEnoughText = ({ have, need }: NotEnough): string => m.chart_not_enough({ have: String(have), need: String(need) });

/** In a cell: short; in a sentence: whole. */
export function standingText(standing: Standing): string {
	if (isNotEnough(standing)) return m.standing_few({ have: String(standing.have), need: String(standing.need) });
	return standing === 'ready' ? m.standing_ready() : standing === 'not yet' ? m.standing_not_yet() : m.standing_relearning();
}

export function standingSentence(standing: Standing): string {
	if (isNotEnough(standing)) return m.standing_few_sentence({ have: String(standing.have), need: String(standing.need) });
	return standing === 'ready' ? m.standing_ready_sentence() : standing === 'not yet' ? m.standing_not_yet_sentence() : m.standing_relearning_sentence();
}

export const attemptText = (how: Attempt): string => (how === 'trouble' ? m.attempt_trouble() : how === 'again' ? m.attempt_again() : '');

/** The rules of both charts, with their rates of error as simulated. */
export function signOffRules(rates: Rates, { learning, watched }: Limits): string[] {
	const [lc, watch] = [lcCusumWeights(rates), cusumWeights(rates)];
	const common = { accepted: percentText(rates.accepted), unaccepted: percentText(rates.unaccepted) };
	return [
		m.rule_attempt(),
		m.rule_learning({ ...common, limit: learning.limit.toFixed(2), success: lc.success.toFixed(2), failure: (-lc.failure).toFixed(2), wrong: percentText(learning.falseSignals), found: percentText(learning.trueSignals), attempts: String(learning.attempts), series: String(learning.series) }),
		m.rule_watched({ ...common, limit: watched.limit.toFixed(2), success: (-watch.success).toFixed(2), failure: watch.failure.toFixed(2), wrong: percentText(watched.falseSignals), found: percentText(watched.trueSignals), attempts: String(watched.attempts) })
	];
}

/** How the time changes with practice: the share that each doubling leaves, with a 95 % interval. */
export function practiceVerdict({ exponent, exponentSe }: PracticeFit): string {
	const reach = 1.96 * exponentSe;
	const params = { share: whole(slopeOfExponent(exponent)), from: whole(slopeOfExponent(exponent + reach)), to: whole(slopeOfExponent(exponent - reach)) };
	if (exponent - reach > 0) return m.practice_faster(params);
	return exponent + reach < 0 ? m.practice_slower(params) : m.practice_flat(params);
}

/** Spread of the logarithm as a share of the time: e^s − 1. */
export const steadinessText = ({ spread, interval, count }: Steadiness): string =>
	m.steadiness_says({ share: whole(Math.expm1(spread)), from: whole(Math.expm1(interval[0])), to: whole(Math.expm1(interval[1])), count: String(count) });

export function againstGroupText({ verdict, ratio, interval, groupCount }: AgainstGroup): string {
	const params = { ratio: ratio.toFixed(2), from: interval[0].toFixed(2), to: interval[1].toFixed(2), count: String(groupCount) };
	if (verdict === 'slower') return m.group_slower(params);
	return verdict === 'faster' ? m.group_faster(params) : m.group_same(params);
}
