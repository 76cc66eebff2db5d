import type { EarsError } from '$lib/ports/ears';
import { type Microphone, MicrophoneFault, type OpenMicrophone } from '$lib/ports/microphone';
import type { BeginRecogniser, FromRecogniser, RecogniserLine, ToRecogniser } from './messages';

const ERRORS: Readonly<Record<MicrophoneFault['reason'], EarsError['error']>> = { denied: 'not-allowed', missing: 'audio-capture', broken: 'audio-capture' };

/** What is answered whether the microphone is open or not. */
type Answer = Extract<FromRecogniser, { kind: 'enrolled' | 'voices' }>;

export type Ready = Extract<FromRecogniser, { kind: 'ready' }>;

/** Microphone → recogniser: loaded once, opened and closed many times. No sound leaves the device or is kept. */
export interface SoundLine {
	/** What the recogniser is; null where it can't be used, and `onerror` said why. A second call tries again. */
	load(): Promise<Ready | null>;
	/** To the recogniser, if it was begun. */
	post(message: ToRecogniser): void;
	/** To the loaded recogniser; resolves to its next answer of that kind, or null where it broke down. */
	ask<K extends Answer['kind']>(message: ToRecogniser, kind: K): Promise<Extract<Answer, { kind: K }> | null>;
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
	let awaited: { readonly kind: Answer['kind']; readonly take: (answer: Answer | null) => void }[] = [];
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

	function answered(answer: Answer): void {
		const first = awaited.find(({ kind }) => kind === answer.kind);
		awaited = awaited.filter((one) => one !== first);
		first?.take(answer);
	}

	function ask<K extends Answer['kind']>(message: ToRecogniser, kind: K): Promise<Extract<Answer, { kind: K }> | null> {
		return new Promise((resolve) => {
			awaited = [...awaited, { kind, take: (answer) => resolve(answer as Extract<Answer, { kind: K }> | null) }];
			line?.post(message);
		});
	}

	function load(): Promise<Ready | null> {
		return (ready ??= new Promise((resolve) => {
			const broken = (message: string) => {
				line?.close();
				[line, ready] = [null, null];
				resolve(null);
				for (const { take } of awaited) take(null);
				awaited = [];
				fail('service-not-allowed', message);
			};
			const take = (message: FromRecogniser) => {
				if (message.kind === 'ready') resolve(message);
				else if (message.kind === 'unusable') broken(message.message);
				else if (message.kind === 'enrolled' || message.kind === 'voices') answered(message);
				else if (open) onmessage(message);
			};
			line = begin(take, broken);
			line.post({ kind: 'load' });
		}));
	}

	return {
		load,
		post: (message) => line?.post(message),
		ask,
		async start(takes) {
			const mine = ++turn;
			const loaded = await load();
			// what tells voices is there before the first word is said, so that each take tells of one
			if (loaded && takes) await ask({ kind: 'voices' }, 'voices');
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
