import jsQR from 'jsqr'; // reads codes by other code than that which draws them; pure JavaScript, Apache-2.0
import { describe, expect, it } from 'vitest';
import { drawQr } from './qr';

/** The label's picture as a printer would lay it down: `dots` to a module, black path on white, from the same path data that the sheet shows. */
function printed(text: string, dots: number): { readonly pixels: Uint8ClampedArray; readonly size: number } {
	const { size, path } = drawQr(text);
	const width = size * dots;
	const pixels = new Uint8ClampedArray(4 * width * width).fill(255);
	for (const [, x, y] of path.matchAll(/M(\d+) (\d+)h1v1h-1z/g))
		for (let dy = 0; dy < dots; dy++)
			for (let dx = 0; dx < dots; dx++) {
				const at = 4 * ((Number(y) * dots + dy) * width + Number(x) * dots + dx);
				pixels.fill(0, at, at + 3);
			}
	return { pixels, size: width };
}
const read = (text: string, dots = 4): string | undefined => {
	const { pixels, size } = printed(text, dots);
	return jsQR(pixels, size, size)?.data;
};

describe('PA7 another reader reads the codes of the labels', () => {
	it.each(['tip:slot-1-0a1b2c3d-4', 'tip:slot-12-ffffffff-137', 'lamella:0a1b2c3d', 'lamella:00000000'])('%s', (id) => {
		expect(read(id)).toBe(id);
	});
	it('any id of ours, at any size it is printed at', () => {
		for (let slot = 1; slot <= 8; slot++) {
			const id = `tip:slot-${slot}-${(0x9e3779b9 * slot).toString(16).slice(0, 8)}-${slot * 7}`;
			for (const dots of [3, 5, 9]) expect(read(id, dots), `${id} at ${dots} dots`).toBe(id);
		}
	});
	it('still with a tenth of the data blotted out, and not with the finder patterns gone', () => {
		const id = 'tip:slot-1-0a1b2c3d-4';
		const { pixels, size } = printed(id, 4);
		const blot = (from: number, to: number) => {
			const spoilt = pixels.slice();
			for (let y = from; y < to; y++) spoilt.fill(255, 4 * (y * size + Math.round(size * 0.45)), 4 * (y * size + Math.round(size * 0.6)));
			return spoilt;
		};
		expect(jsQR(blot(Math.round(size * 0.45), Math.round(size * 0.6)), size, size)?.data).toBe(id);
		const half = pixels.slice();
		half.fill(255, 0, 4 * size * Math.round(size / 2));
		expect(jsQR(half, size, size)).toBeNull();
	});
});
