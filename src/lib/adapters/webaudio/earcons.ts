import type { Earcon } from '$lib/ports/mouth';

/** One tone of an earcon: frequency, start and length. All within 200–5000 Hz (NUREG-0700 r2 1.3.11-17). */
export interface Tone {
	readonly hz: number;
	readonly fromMs: number;
	readonly forMs: number;
}

/** Told apart by contour and rhythm, not by pitch alone: rises, falls, repeats, rings. */
export const EARCONS: Readonly<Record<Earcon, readonly Tone[]>> = {
	done: [{ hz: 660, fromMs: 0, forMs: 70 }, { hz: 990, fromMs: 80, forMs: 110 }],
	refused: [{ hz: 330, fromMs: 0, forMs: 120 }, { hz: 247, fromMs: 130, forMs: 200 }],
	attention: [0, 220, 440].map((fromMs) => ({ hz: 880, fromMs, forMs: 140 })),
	time: [{ hz: 523, fromMs: 0, forMs: 350 }, { hz: 659, fromMs: 180, forMs: 350 }, { hz: 784, fromMs: 360, forMs: 500 }]
};

export const earconLengthMs = (earcon: Earcon): number => Math.max(...EARCONS[earcon].map((t) => t.fromMs + t.forMs));

/** Plays an earcon on an audio context; `loudness` 0–1. */
export function playEarcon(context: AudioContext, earcon: Earcon, loudness: number): void {
	for (const tone of EARCONS[earcon]) {
		const start = context.currentTime + tone.fromMs / 1000;
		const end = start + tone.forMs / 1000;
		const oscillator = new OscillatorNode(context, { frequency: tone.hz });
		const gain = new GainNode(context, { gain: 0 });
		// ramps, so that nothing clicks
		gain.gain.setValueAtTime(0, start);
		gain.gain.linearRampToValueAtTime(loudness, start + 0.012);
		gain.gain.setValueAtTime(loudness, Math.max(start + 0.012, end - 0.03));
		gain.gain.linearRampToValueAtTime(0, end);
		oscillator.connect(gain).connect(context.destination);
		oscillator.start(start);
		oscillator.stop(end);
	}
}
