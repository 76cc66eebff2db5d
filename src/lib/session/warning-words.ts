import * as m from '$lib/paraglide/messages';
import type { ReturnWarning } from '$lib/timing/return-warning';
import { timeOfDay } from './moments';
import type { Named } from './named';
import { chanceText } from './time-words';

/** The warning in sentences: by when the return must begin, and what would make it fit. */
export function warningTexts({ kind, stage, latestStartAtMs, leaveOut }: ReturnWarning, words: Named, nowAtMs: number): string[] {
	const params = { stage: words.stage(stage), time: timeOfDay(latestStartAtMs, words.language) };
	const by = nowAtMs > latestStartAtMs ? m.warn_return_passed(params) : kind === 'near' ? m.warn_return_near(params) : m.warn_return_likely_late(params);
	if (!leaveOut) return [by];
	const help = { stages: leaveOut.stages.map(words.stage).join(m.warn_and()), chance: chanceText(leaveOut.fits) };
	return [by, leaveOut.enough ? m.warn_drop_enough(help) : m.warn_drop_helps(help)];
}
