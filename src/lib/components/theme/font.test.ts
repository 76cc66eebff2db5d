import { readFileSync } from 'node:fs';
import { inflateSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { letterAdvances } from '../rail/letter-widths';
import { CAPITAL_PER_EM } from './physical';

/** One table of a WOFF file (W3C WOFF 1.0, section 4: 44-byte header, 20-byte directory entries). */
function fontTable(file: string, tag: string): Buffer {
	const font = readFileSync(file);
	for (let i = 0; i < font.readUInt16BE(12); i++) {
		const entry = 44 + 20 * i;
		if (font.toString('latin1', entry, entry + 4) !== tag) continue;
		const [offset, packed, whole] = [4, 8, 12].map((at) => font.readUInt32BE(entry + at)) as [number, number, number];
		const data = font.subarray(offset, offset + packed);
		return packed < whole ? inflateSync(data) : data;
	}
	throw new Error(`${file} has no table ${tag}`);
}

/** Glyph index of a character by a cmap subtable of format 4 (OpenType specification, cmap). */
function glyphOf(cmap: Buffer, code: number): number {
	for (let i = 0; i < cmap.readUInt16BE(2); i++) {
		const at = cmap.readUInt32BE(8 + 8 * i);
		if (cmap.readUInt16BE(at) !== 4) continue;
		const bytes = cmap.readUInt16BE(at + 6);
		for (let segment = 0; segment < bytes; segment += 2) {
			if (code > cmap.readUInt16BE(at + 14 + segment)) continue;
			const start = cmap.readUInt16BE(at + 16 + bytes + segment);
			if (code < start) return 0;
			const delta = cmap.readInt16BE(at + 16 + 2 * bytes + segment);
			const where = at + 16 + 3 * bytes + segment;
			const offset = cmap.readUInt16BE(where);
			return ((offset === 0 ? code : cmap.readUInt16BE(where + offset + 2 * (code - start))) + delta) & 0xffff;
		}
	}
	return 0;
}

describe.each(['400', '700'])('B612 %s, as installed', (weight) => {
	const file = `node_modules/@fontsource/b612/files/b612-latin-${weight}-normal.woff`;
	const unitsPerEm = fontTable(file, 'head').readUInt16BE(18);
	it('has capitals of the height that sizes reckon with', () => {
		expect(fontTable(file, 'OS/2').readInt16BE(88) / unitsPerEm).toBe(CAPITAL_PER_EM);
	});
	it('has the advances by which labels are placed', () => {
		const [cmap, hmtx] = [fontTable(file, 'cmap'), fontTable(file, 'hmtx')];
		const last = fontTable(file, 'hhea').readUInt16BE(34) - 1;
		for (const [letter, em] of letterAdvances) {
			const glyph = glyphOf(cmap, letter.codePointAt(0) ?? 0);
			expect(glyph, `B612 lacks "${letter}"`).toBeGreaterThan(0);
			expect(hmtx.readUInt16BE(4 * Math.min(glyph, last)) / unitsPerEm, letter).toBeCloseTo(em, 6);
		}
	});
	it('gives all digits one advance, so that times stand still', () => {
		expect(new Set([...'0123456789'].map((digit) => letterAdvances.get(digit))).size).toBe(1);
	});
});
