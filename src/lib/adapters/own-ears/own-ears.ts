import type { Ears, EarsError } from '$lib/ports/ears';
import { type Microphone, MicrophoneFault, type OpenMicrophone } from '$lib/ports/microphone';
import type { BeginRecogniser, FromRecogniser, RecogniserLine } from './messages';

const ERRORS: Readonly<Record<MicrophoneFault['reason'], EarsError['error']>> = { denied: 'not-allowed', missing: 'audio-capture', broken: 'audio-capture' };

/** The project's own recogniser behind the ears' port: microphone → recogniser → results. No sound leaves the device or is kept. */
export function ownEars(microphone: Microphone, beginRecogniser: BeginRecogniser): Ears {
	let line: RecogniserLine | null = null;
	let ready: Promise<boolean> | null = null;
	let open: OpenMicrophone | null = null;
	let vocabulary: readonly string[] = [];
	/** Counts starts and stops: what was begun before the last one is let go. */
	let turn = 0;

	function fail(error: EarsError['error'], message: string): void {
		const was = open;
		open = null;
		turn++;
		was?.close();
		ears.onerror?.({ error, message });
		ears.onend?.();
	}

	function load(): Promise<boolean> {
		return (ready ??= new Promise((resolve) => {
			const broken = (message: string) => {
				line?.close();
				[line, ready] = [null, null];
				resolve(false);
				fail('service-not-allowed', message);
			};
			const take = (message: FromRecogniser) => {
				if (message.kind === 'ready') resolve(true);
				else if (message.kind === 'unusable') broken(message.message);
				else if (open && message.kind === 'level') ears.onlevel?.(message.level);
				else if (open && message.kind === 'heard' && message.alternatives.length > 0) {
					const alternatives = message.alternatives.map(({ word, confidence }) => ({ transcript: word, confidence }));
					ears.onresult?.({ alternatives, isFinal: true, unsure: message.unsure });
				}
			};
			line = beginRecogniser(take, broken);
			line.post({ kind: 'load' });
		}));
	}

	const ears: Ears = {
		onresult: null,
		onerror: null,
		onend: null,
		onlevel: null,
		available: () => Promise.resolve('available'),
		setVocabulary(words) {
			vocabulary = words;
			line?.post({ kind: 'open', words });
		},
		async start() {
			const mine = ++turn;
			if (!(await load()) || mine !== turn) return;
			line?.post({ kind: 'open', words: vocabulary });
			try {
				const opened = await microphone.open((samples) => line?.post({ kind: 'sound', samples }), () => fail('audio-capture', 'the microphone went away'));
				if (mine !== turn) return opened.close();
				open = opened;
				line?.post({ kind: 'begin', sampleRate: opened.sampleRate });
			} catch (fault) {
				if (!(fault instanceof MicrophoneFault)) throw fault;
				if (mine === turn) fail(ERRORS[fault.reason], fault.message);
			}
		},
		stop() {
			turn++;
			if (!open) return;
			open.close();
			open = null;
			ears.onend?.();
		}
	};
	return ears;
}
