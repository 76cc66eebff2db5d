import * as m from '$lib/paraglide/messages';
import type { EarsError } from '$lib/ports/ears';
import type { LastTake } from '$lib/session/enrolling.svelte';

const verdicts: Readonly<Record<LastTake['verdict'], () => string>> = {
	good: m.voice_verdict_good, 'too quiet': m.voice_verdict_quiet, 'too noisy': m.voice_verdict_noisy, 'too loud': m.voice_verdict_loud,
	'too long': m.voice_verdict_long, 'no word': m.voice_verdict_no_word, unlike: m.voice_verdict_unlike
};

/** What came of the last sound, and what to do better. */
export const verdictText = (verdict: LastTake['verdict']): string => verdicts[verdict]();

export function voiceProblemText(problem: EarsError['error']): string {
	if (problem === 'not-allowed') return m.voice_problem_denied();
	return problem === 'audio-capture' ? m.voice_problem_no_sound() : m.voice_problem_damaged();
}

/** A word as it is shown: the vocabulary's own, or the operator's for it. */
export const wordText = ({ word, said }: { readonly word: string; readonly said?: string }): string => (said ? m.voice_word_own({ said, word }) : m.walk_quoted({ words: word }));
