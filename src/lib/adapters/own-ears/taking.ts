import type { TakeHeard } from '$lib/ports/takes';
import { SAMPLE_RATE } from '$lib/voice/features/mel';
import { SpeechFeatures } from '$lib/voice/features/speech-features';
import { Listener } from '$lib/voice/listener';
import { silenceCheck } from '$lib/voice/likeness';
import type { EarsModel } from '$lib/voice/model';
import type { Eigenvoices } from '$lib/voice/operator/eigenvoices';
import { takeOf } from '$lib/voice/take';
import { verdictOf, WordEndFinder, type WordEnds } from '$lib/voice/word-ends';

/** Makes what is said into takes. */
export interface Taking {
	/** dB re full scale. */
	readonly roomDb: number;
	push(samples: Float32Array, take: (heard: TakeHeard) => void): void;
}

/** Sound held back until its word is over: the longest word, its context and its end. */
const HELD_SAMPLES = 6 * SAMPLE_RATE;

/** Without `eigenvoices` the takes tell nothing of whose voice it is. */
export function createTaking(model: EarsModel, eigenvoices?: Eigenvoices): Taking {
	const features = new SpeechFeatures(model.embedding);
	const listener = new Listener(model);
	const finder = new WordEndFinder();
	const isNoWord = silenceCheck(features);
	let held = new Float32Array(0);
	/** Number of the first sample held. */
	let first = 0;

	function made(word: WordEnds): TakeHeard {
		const verdict = verdictOf(word);
		const from = Math.max(0, word.from - first);
		const to = word.to - first;
		let heard: TakeHeard['heard'] = [];
		listener.reset();
		const alone = new Float32Array(to - from + SAMPLE_RATE);
		alone.set(held.subarray(from, to), SAMPLE_RATE / 2);
		listener.push(alone, (hearing) => (heard = hearing.alternatives));
		if (verdict !== 'good') return { verdict, heard };
		const take = takeOf(features, held, { from, to }, eigenvoices);
		return isNoWord(take) ? { verdict: 'no word', heard } : { verdict, heard, take };
	}

	return {
		get roomDb() {
			return finder.roomDb;
		},
		push(samples, take) {
			const all = new Float32Array(held.length + samples.length);
			all.set(held);
			all.set(samples, held.length);
			const drop = Math.max(0, all.length - HELD_SAMPLES);
			held = all.slice(drop);
			first += drop;
			finder.push(samples, (word) => take(made(word)));
		}
	};
}
