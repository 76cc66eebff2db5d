/**
 * How wide a word is in B612, without a screen: advance widths in em, read from the font's hmtx table (regular and bold
 * share them; letter-widths.test.ts compares with the file). So labels are placed by measure, and a test can do it too.
 */
const ADVANCES: readonly (readonly [number, string])[] = [
	[0.2, "'|"],
	[0.25, ',;·′'],
	[0.3, '.:Iij°'],
	[0.35, ' !l‘’'],
	[0.4, '"frt'],
	[0.45, '()-J[s'],
	[0.5, '=]cz“”'],
	[0.525, 'a'],
	[0.55, '$*/?FLS_ekvxyàáâãäåèéêë–−'],
	[0.6, '+CEKPTYZbdghnopquñòóôõöøùúûü'],
	[0.65, '0123456789<>ABDGRVXµÄÅß'],
	[0.7, '&HUÜ'],
	[0.75, 'Nw…'],
	[0.8, 'OQÖØ'],
	[0.9, '%Mm'],
	[0.95, 'W'],
	[1, '@'],
	[1.05, '—']
];
const advanceOf = new Map(ADVANCES.flatMap(([em, letters]) => [...letters].map((letter) => [letter, em] as const)));
/** For letters the table lacks, and for the system's fonts where B612 is missing: the widest, so that nothing overlaps. */
const UNKNOWN_EM = 1.05;

/** Width in px of `text` at `fontPx`. Kerning is left out: it only draws letters together. */
export function textWidthPx(text: string, fontPx: number): number {
	let em = 0;
	for (const letter of text) em += advanceOf.get(letter) ?? UNKNOWN_EM;
	return em * fontPx;
}

/** Letters and advances of the table, for its test. */
export const letterAdvances: ReadonlyMap<string, number> = advanceOf;
