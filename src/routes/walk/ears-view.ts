import type { EarsView } from '$lib/components/walk/view';
import * as m from '$lib/paraglide/messages';
import type { Listening } from '$lib/session/listening.svelte';

function problemText(problem: NonNullable<Listening['problem']>): string {
	if (problem === 'not-allowed') return m.walk_ears_denied();
	if (problem === 'audio-capture') return m.walk_ears_no_sound();
	return problem === 'service-not-allowed' ? m.walk_ears_damaged() : m.walk_ears_missing();
}

/** The ears' state for the line that tells what can be said and what was heard. */
export const earsView = ({ listening, level, heard, choices, problem, voice }: Listening, canSay: readonly string[]): EarsView => ({
	listening,
	canSay,
	level,
	...(voice === 'only' ? { only: true as const } : {}),
	...(heard ? { heard } : {}),
	...(choices ? { choices } : {}),
	...(problem ? { problem: problemText(problem) } : {})
});
