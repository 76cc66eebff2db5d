/** Numbers of 16 bits (IEEE 754-2008 binary16), in which the networks are stored. */

const single = new Float32Array(1);
const bits = new Uint32Array(single.buffer);

function half(value: number): number {
	single[0] = value;
	const whole = bits[0]!;
	const sign = (whole >>> 16) & 0x8000;
	const exponent = ((whole >>> 23) & 0xff) - 112;
	if (exponent >= 31) return sign | 0x7c00;
	if (exponent <= 0) {
		// subnormal: steps of 2^-24
		return sign | Math.min(0x3ff + 1, Math.round(Math.abs(value) * 2 ** 24));
	}
	// round to nearest by adding half a step; a carry into the exponent is right
	return sign + ((exponent << 10) | ((whole >>> 13) & 0x3ff)) + ((whole >>> 12) & 1);
}

/** To 16 bits, rounded to nearest; beyond 65504 becomes infinity. */
export function toHalf(values: Float32Array): Uint16Array<ArrayBuffer> {
	return Uint16Array.from(values, half);
}

/** Back to 32 bits, exactly. */
export function fromHalf(halves: Uint16Array): Float32Array<ArrayBuffer> {
	return Float32Array.from(halves, (h) => {
		const sign = h & 0x8000 ? -1 : 1;
		const exponent = (h >> 10) & 0x1f;
		const fraction = h & 0x3ff;
		if (exponent === 0) return sign * fraction * 2 ** -24;
		if (exponent === 31) return fraction ? NaN : sign * Infinity;
		return sign * (1 + fraction / 1024) * 2 ** (exponent - 15);
	});
}
