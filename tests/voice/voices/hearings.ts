/** How each recording is heard for telling voices apart: as recorded, as if all had one microphone, and two metres from it. */
import { VOICE_BANDS } from '$lib/voice/operator/sound-rows';
import { lastWord } from '$lib/voice/operator/last-word';
import { type HeardVoice, heardVoice, rowsOf } from '$lib/voice/operator/take-voice';
import { SAMPLE_RATE } from '$lib/voice/features/mel';
import { takeSoundsIn } from '$lib/voice/take';
import { joined } from '../bench/trials';
import { chanceFrom } from '../random';
import { load, type Recording } from '../recordings';
import { atLevel, noise, rms } from '../signal/noise';
import { echoing } from '../signal/room';

/**
 * `recorded`: each speaker with a microphone and a room of their own. `one microphone`: filtered so that each recording's mean spectrum is the
 * same, which takes away the voice's own mean spectrum with the microphone's. `two metres`: that, 12 dB fainter (twice the distance is
 * 6 dB in the open, two metres instead of half a metre), with echo; what the room sounds like without the voice stays. All simulated, but the first.
 */
export type Place = 'recorded' | 'one microphone' | 'two metres';
export const PLACES: readonly Place[] = ['recorded', 'one microphone', 'two metres'];
/** Pink noise 10 dB below the voice of whoever is near. */
export type Room = 'clean' | '10 dB';
export const ROOMS: readonly Room[] = ['clean', '10 dB'];

export interface Spoken {
	readonly recording: Recording;
	/** Undefined where no word stands out. */
	readonly heard: Readonly<Record<Place, Readonly<Record<Room, HeardVoice | undefined>>>>;
	/** The two sides of a take, as recorded and as if at one microphone. */
	readonly take: Readonly<Record<'recorded' | 'one microphone', readonly [HeardVoice, HeardVoice] | undefined>>;
}

const AWAY_DB = 12;
const NOISE_DB = 10;
/** FSDD's clips are cut tight. */
const seconds = (s: number) => new Float32Array(Math.round(s * SAMPLE_RATE));
const padded = (r: Recording) => (r.source === 'fsdd' ? joined([seconds(0.5), load(r), seconds(0.7)]) : load(r));

/** Mean log mel energies of the word, dB over ten; undefined where no word stands out. */
export function meanSpectrum(sound: Float32Array): Float64Array | undefined {
	const word = lastWord(rowsOf(sound));
	return word && Float64Array.from({ length: VOICE_BANDS }, (_, band) => word.rows.reduce((sum, { mel }) => sum + mel[band]! / word.rows.length, 0));
}

const TAPS = 512;
const MOST_GAIN_DB = 30;
/** Centres of the bands lie evenly in mel (features/mel.ts: Slaney's scale). */
const melOf = (hz: number) => (hz < 1000 ? (hz * 3) / 200 : 15 + (Math.log(hz / 1000) * 27) / Math.log(6.4));
const [LOW_MEL, HIGH_MEL] = [melOf(60), melOf(7600)];

/** Filters so that a word of mean spectrum `from` gets that of `to`: linear phase, by frequency sampling. */
function coloured(sound: Float32Array, from: Float64Array, to: Float64Array): Float32Array {
	const gainAt = (hz: number) => {
		const place = Math.max(0, Math.min(VOICE_BANDS - 1, ((melOf(hz) - LOW_MEL) * (VOICE_BANDS + 1)) / (HIGH_MEL - LOW_MEL) - 1));
		const low = Math.min(VOICE_BANDS - 2, Math.floor(place));
		const difference = (band: number) => 10 * (to[band]! - from[band]!);
		const db = difference(low) + (place - low) * (difference(low + 1) - difference(low));
		return 10 ** (Math.max(-MOST_GAIN_DB, Math.min(MOST_GAIN_DB, db)) / 20);
	};
	const gains = Array.from({ length: TAPS / 2 + 1 }, (_, k) => gainAt((k * SAMPLE_RATE) / TAPS));
	const taps = Float64Array.from({ length: TAPS }, (_, n) => {
		const at = n - TAPS / 2;
		let sum = gains[0]! + gains[TAPS / 2]! * Math.cos(Math.PI * at);
		for (let k = 1; k < TAPS / 2; k++) sum += 2 * gains[k]! * Math.cos((2 * Math.PI * k * at) / TAPS);
		return ((sum / TAPS) * (1 - Math.cos((2 * Math.PI * n) / TAPS))) / 2;
	});
	const out = new Float32Array(sound.length);
	for (let i = 0; i < out.length; i++) {
		let sum = 0;
		const last = Math.min(TAPS - 1, i + TAPS / 2);
		for (let n = Math.max(0, i + TAPS / 2 - sound.length + 1); n <= last; n++) sum += taps[n]! * sound[i + TAPS / 2 - n]!;
		out[i] = sum;
	}
	return out;
}

const mixed = (sound: Float32Array, level: number, ...seed: string[]) => {
	const hiss = atLevel(noise('pink', sound.length, chanceFrom('voices', ...seed)), level);
	return sound.map((x, i) => x + hiss[i]!);
};
/** Level of the quietest sixth, of pieces of 25 ms. */
function roomLevel(sound: Float32Array): number {
	const levels = Array.from({ length: Math.floor(sound.length / 400) }, (_, i) => rms(sound.subarray(400 * i, 400 * (i + 1)))).sort((a, b) => a - b);
	return levels[Math.floor(levels.length / 6)] ?? 0;
}

function faraway(sound: Float32Array, seed: string): Float32Array {
	const chance = chanceFrom('two metres', seed);
	const longer = joined([sound, seconds(0.25)]);
	const away = echoing(longer, chance.between(0.3, 0.8), chance.between(0.5, 1), chance).map((x) => x * 10 ** (-AWAY_DB / 20));
	return mixed(away, roomLevel(sound), 'room', seed);
}

/** `to`: the mean spectrum that all are brought to. Undefined where no word stands out from the recording. */
export function spoken(recording: Recording, to: Float64Array): Spoken | undefined {
	const sound = padded(recording);
	const from = meanSpectrum(sound);
	if (!from) return undefined;
	// as loud as it was recorded
	const same = atLevel(coloured(sound, from, to), rms(sound));
	const speech = rms(load(recording));
	const inRooms = (one: Float32Array, level: number): Record<Room, HeardVoice | undefined> => ({
		clean: heardVoice(rowsOf(one)),
		'10 dB': heardVoice(rowsOf(mixed(one, level * 10 ** (-NOISE_DB / 20), recording.path)))
	});
	const takeOf = (one: Float32Array) => {
		const { clean, noisy } = takeSoundsIn(one);
		const [word, inNoise] = [heardVoice(rowsOf(clean)), heardVoice(rowsOf(noisy))];
		return word && inNoise && ([word, inNoise] as const);
	};
	return {
		recording,
		heard: { recorded: inRooms(sound, speech), 'one microphone': inRooms(same, speech), 'two metres': inRooms(faraway(same, recording.path), speech) },
		take: { recorded: takeOf(sound), 'one microphone': takeOf(same) }
	};
}

/** A recording as it is, without and with noise; to learn from. Undefined where no word stands out. */
export function heardAsRecorded(recording: Recording): { readonly recording: Recording; readonly words: readonly HeardVoice[] } | undefined {
	const sound = padded(recording);
	const words = [sound, mixed(sound, rms(load(recording)) * 10 ** (-NOISE_DB / 20), recording.path)].flatMap((one) => heardVoice(rowsOf(one)) ?? []);
	return words.length === ROOMS.length ? { recording, words } : undefined;
}

/** Every recording, at every place. */
export function allSpoken(recordings: readonly Recording[]): Spoken[] {
	const spectra = recordings.filter(({ source }) => source === 'speech-commands').flatMap((r) => meanSpectrum(padded(r)) ?? []);
	const to = Float64Array.from({ length: VOICE_BANDS }, (_, band) => spectra.reduce((sum, one) => sum + one[band]! / spectra.length, 0));
	return recordings.flatMap((r) => spoken(r, to) ?? []);
}
