import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

const css = readFileSync('src/lib/components/theme/colours.css', 'utf8');

/** Hex colours by custom property, per block of the file, in order: dim, daylight, signal words. */
const [dim, daylight, signals] = css
	.split('}')
	.map((block) => Object.fromEntries([...block.matchAll(/--([a-z-]+):\s*(#[0-9a-f]{6});/g)].map((m) => [m[1], m[2]])) as Record<string, string>) as [
	Record<string, string>,
	Record<string, string>,
	Record<string, string>
];

/** Relative luminance and contrast ratio as WCAG 2.2 defines them. */
function luminance(hex: string): number {
	const [r, g, b] = [1, 3, 5].map((at) => {
		const share = parseInt(hex.slice(at, at + 2), 16) / 255;
		return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
	}) as [number, number, number];
	return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}
function contrast(a: string, b: string): number {
	const [dark, light] = [luminance(a), luminance(b)].sort((x, y) => x - y) as [number, number];
	return (light + 0.05) / (dark + 0.05);
}

/** Hue of the HSL model (CSS Color 4, section 7). */
function hueDeg(hex: string): number {
	const [r, g, b] = [1, 3, 5].map((at) => parseInt(hex.slice(at, at + 2), 16)) as [number, number, number];
	const [most, span] = [Math.max(r, g, b), Math.max(r, g, b) - Math.min(r, g, b)];
	const sixth = most === r ? ((g - b) / span + 6) % 6 : most === g ? (b - r) / span + 2 : (r - g) / span + 4;
	return sixth * 60;
}

describe.each([
	['dim', dim],
	['daylight', daylight]
])('the %s theme', (_, theme) => {
	const at = (name: string) => theme[name] as string;
	it.each(['ground', 'raised', 'sunk'])('writes ink and quiet text on %s at 7:1 or better', (ground) => {
		expect(contrast(at('ink'), at(ground))).toBeGreaterThanOrEqual(7);
		expect(contrast(at('quiet'), at(ground))).toBeGreaterThanOrEqual(7);
	});
	it('writes the accent at 4.5:1 or better, and on the accent at 7:1', () => {
		for (const ground of ['ground', 'raised', 'sunk']) expect(contrast(at('now'), at(ground))).toBeGreaterThanOrEqual(4.5);
		expect(contrast(at('on-now'), at('now'))).toBeGreaterThanOrEqual(7);
	});
	it('draws edges and the rail at 3:1 or better', () => {
		for (const mark of ['edge', 'walked', 'metal', 'ink']) expect(contrast(at(mark), at('ground'))).toBeGreaterThanOrEqual(3);
		expect(contrast(at('metal-far'), at('sunk'))).toBeGreaterThanOrEqual(2.5);
		expect(contrast(at('ink'), at('sleeve'))).toBeGreaterThanOrEqual(4.5);
		expect(contrast(at('walked'), at('sleeve'))).toBeGreaterThanOrEqual(3);
	});
});

describe('signal words', () => {
	it.each(['danger', 'warning', 'caution', 'notice'])('%s is written at 7:1 or better on its colour', (word) => {
		expect(contrast(signals[`on-${word}`] as string, signals[word] as string)).toBeGreaterThanOrEqual(7);
	});
	it('are at least 30° of hue from the accent', () => {
		for (const word of ['danger', 'warning', 'caution', 'notice'])
			for (const theme of [dim, daylight]) {
				const apart = Math.abs(hueDeg(signals[word] as string) - hueDeg(theme.now as string));
				expect(Math.min(apart, 360 - apart)).toBeGreaterThanOrEqual(30);
			}
	});
});
