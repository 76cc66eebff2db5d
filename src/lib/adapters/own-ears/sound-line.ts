import type { EarsError } from '$lib/ports/ears';
import { type Microphone, MicrophoneFault, type OpenMicrophone } from '$lib/ports/microphone';
import type { BeginRecogniser, FromRecogniser, RecogniserLine, ToRecogniser } from './messages';

const ERRORS: Readonly<Record<MicrophoneFault['reason'], EarsError['error']>> = { denied: 'not-allowed', missing: 'audio-capture', broken: 'audio-capture' };

export type Ready = Extract<FromRecogniser, { kind: 'ready' }>;

/** Microphone → recogniser: loaded once, opened and closed many times. No sound leaves the device or is kept. */
export interface SoundLine {
	/** What the recogniser is; null where it can't be used, and `onerror` said why. A second call tries again. */
	load(): Promise<Ready | null>;
	/** To the recogniser, if it was begun. */
	post(message: ToRecogniser): void;
	start(takes: boolean): Promise<Ready | null>;
	stop(): void;
}

export interface SoundLineNeeds {
	readonly microphone: Microphone;
	readonly begin: BeginRecogniser;
	/** What the recogniser says while the microphone is open. */
	readonly onmessage: (message: FromRecogniser) => void;
	readonly onerror: (error: EarsError) => void;
	readonly onend: () => void;
}

export function soundLine({ microphone, begin, onmessage, onerror, onend }: SoundLineNeeds): SoundLine {
	let line: RecogniserLine | null = null;
	let ready: Promise<Ready | null> | null = null;
	let open: OpenMicrophone | null = null;
	/** Counts starts and stops: what was begun before the last one is let go. */
	let turn = 0;

	function fail(error: EarsError['error'], message: string): void {
		const was = open;
		open = null;
		turn++;
		was?.close();
		onerror({ error, message });
		onend();
	}

	function load(): Promise<Ready | null> {
		return (ready ??= new Promise((resolve) => {
			const broken = (message: string) => {
				line?.close();
				[line, ready] = [null, null];
				resolve(null);
				fail('service-not-allowed', message);
			};
			const take = (message: FromRecogniser) => {
				if (message.kind === 'ready') resolve(message);
				else if (message.kind === 'unusable') broken(message.message);
				else if (open) onmessage(message);
			};
			line = begin(take, broken);
			line.post({ kind: 'load' });
		}));
	}

	return {
		load,
		post: (message) => line?.post(message),
		async start(takes) {
			const mine = ++turn;
			const loaded = await load();
			if (!loaded || mine !== turn) return null;
			try {
				const opened = await microphone.open((samples) => line?.post({ kind: 'sound', samples }), () => fail('audio-capture', 'the microphone went away'));
				if (mine !== turn) {
					opened.close();
					return null;
				}
				open = opened;
				line?.post({ kind: 'begin', sampleRate: opened.sampleRate, takes });
				return loaded;
			} catch (fault) {
				if (!(fault instanceof MicrophoneFault)) throw fault;
				if (mine === turn) fail(ERRORS[fault.reason], fault.message);
				return null;
			}
		},
		stop() {
			turn++;
			if (!open) return;
			open.close();
			open = null;
			onend();
		}
	};
}
