/** Levels of sound in dB below full scale. */
const FAINTEST_DB = -90;

/** Mean power of samples (−1 to 1) in dB re full scale. */
export function levelDb(samples: Float32Array): number {
	let power = 0;
	for (const sample of samples) power += sample * sample;
	return Math.max(FAINTEST_DB, 10 * Math.log10(power / samples.length + 1e-12));
}
