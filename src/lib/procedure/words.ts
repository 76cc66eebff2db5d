/** The keys by which a step says its kind. */
export const kinds = ['do', 'check', 'reading', 'choose', 'wait', 'adjust'] as const;
/** Signal words of ANSI Z535.4 (from memory of the standard), gravest first. */
export const signalWords = ['danger', 'warning', 'caution', 'notice'] as const;

/** Lower case, hyphens and runs of blanks as one blank, no full stop at the end: how names are compared. */
export const sameWords = (text: string): string => text.toLowerCase().replace(/[-\s]+/g, ' ').replace(/[.!?:]+$/, '').trim();

/** An id made from a wording: "Centre the taper." → "centre-the-taper". */
export const idFrom = (text: string): string =>
	text
		.toLowerCase()
		.normalize('NFD')
		.replace(/[\u0300-\u036f]/g, '')
		.replace(/[^a-z0-9]+/g, '-')
		.replace(/^-+|-+$/g, '')
		.slice(0, 60)
		.replace(/-+$/, '') || 'x';

const milliseconds = { s: 1000, min: 60_000, h: 3_600_000 } as const;

/** "90 s", "5 min", "1.5 h" in milliseconds; the schema has looked at the form. */
export function durationMs(text: string): number {
	const match = /^(\d+(?:\.\d+)?) ?(s|min|h)$/.exec(text);
	if (!match) throw new RangeError(`"${text}" is not a duration; expected e.g. "5 min"`);
	return Math.round(Number(match[1]) * milliseconds[match[2] as keyof typeof milliseconds]);
}
