/**
 * Reads WAV files: 16 and 24-bit and 32-bit whole numbers, 32-bit floats, any rate, any number of channels (put into one by their mean).
 * Source of the layout: IBM and Microsoft, "Multimedia Programming Interface and Data Specifications 1.0", 1991, and RFC 2361.
 */

export interface Sound {
	readonly sampleRate: number;
	/** −1 to 1. */
	readonly samples: Float32Array;
}

/** What is wrong with a file that is no WAV file of a kind that can be read. */
export class UnreadableSound extends Error {
	override readonly name = 'UnreadableSound';
}

const PCM = 1;
const FLOAT = 3;
const EXTENSIBLE = 0xfffe;

interface Format {
	readonly coding: number;
	readonly channels: number;
	readonly sampleRate: number;
	readonly bits: number;
}

function readFormat(view: DataView, at: number, length: number): Format {
	if (length < 16) throw new UnreadableSound(`its format chunk has ${length} bytes, expected at least 16`);
	const tag = view.getUint16(at, true);
	const extended = tag === EXTENSIBLE && length >= 26;
	const format = {
		coding: extended ? view.getUint16(at + 24, true) : tag,
		channels: view.getUint16(at + 2, true),
		sampleRate: view.getUint32(at + 4, true),
		bits: view.getUint16(at + 14, true)
	};
	const whole = format.coding === PCM && [16, 24, 32].includes(format.bits);
	if (!whole && !(format.coding === FLOAT && format.bits === 32)) {
		throw new UnreadableSound(
			`its samples are coded as ${format.coding} with ${format.bits} bits, expected 16, 24 or 32-bit whole numbers (1) or 32-bit floats (3)`
		);
	}
	if (format.channels < 1) throw new UnreadableSound('it has no channels, expected one or more');
	if (format.sampleRate < 4000 || format.sampleRate > 384000) {
		throw new UnreadableSound(`its sample rate is ${format.sampleRate} Hz, expected 4000 to 384000`);
	}
	return format;
}

function readSample(view: DataView, at: number, format: Format): number {
	if (format.coding === FLOAT) return view.getFloat32(at, true);
	if (format.bits === 16) return view.getInt16(at, true) / 2 ** 15;
	if (format.bits === 24) return (view.getUint16(at, true) + view.getInt8(at + 2) * 65536) / 2 ** 23;
	return view.getInt32(at, true) / 2 ** 31;
}

function readSamples(view: DataView, at: number, length: number, format: Format): Float32Array {
	const bytes = format.bits / 8;
	const frames = Math.floor(length / (bytes * format.channels));
	const samples = new Float32Array(frames);
	for (let frame = 0; frame < frames; frame++) {
		let sum = 0;
		for (let channel = 0; channel < format.channels; channel++) {
			sum += readSample(view, at + (frame * format.channels + channel) * bytes, format);
		}
		samples[frame] = sum / format.channels;
	}
	if (format.coding === FLOAT && samples.some((sample) => !Number.isFinite(sample))) {
		throw new UnreadableSound('it holds samples that are no numbers');
	}
	return samples;
}

/** The sound of a WAV file. Throws UnreadableSound, whose message says what was found and what was expected. */
export function readWav(file: Uint8Array): Sound {
	const view = new DataView(file.buffer, file.byteOffset, file.byteLength);
	const tag = (at: number) => String.fromCharCode(...file.subarray(at, at + 4));
	if (file.length < 12 || tag(0) !== 'RIFF' || tag(8) !== 'WAVE') {
		throw new UnreadableSound('it does not begin as a WAV file (RIFF … WAVE)');
	}
	let format: Format | undefined;
	for (let at = 12; at + 8 <= file.length; ) {
		const start = at + 8;
		const said = view.getUint32(at + 4, true);
		// a writer that was cut off leaves a length beyond the end: what is there is read
		const length = Math.min(said, file.length - start);
		if (tag(at) === 'fmt ') format = readFormat(view, start, length);
		if (tag(at) === 'data') {
			if (!format) throw new UnreadableSound('its data chunk comes before its format chunk');
			return { sampleRate: format.sampleRate, samples: readSamples(view, start, length, format) };
		}
		at = start + length + (length % 2);
	}
	throw new UnreadableSound(`it has no ${format ? 'data' : 'format'} chunk`);
}
