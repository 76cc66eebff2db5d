/**
 * A number being given, one token at a time, by whichever input: keys, spoken digits, scanned digits. Text until it is
 * sent; nothing counts before it has been echoed and confirmed.
 */
export interface NumberEntry {
	readonly text: string;
	/** Inputs that gave it, in their own words, for the record. */
	readonly raw: string;
	/** Sent, waiting for the confirmation. */
	readonly echoed: boolean;
}

export const emptyEntry: NumberEntry = { text: '', raw: '', echoed: false };

export type NumberToken = '0' | '1' | '2' | '3' | '4' | '5' | '6' | '7' | '8' | '9' | '.' | '-' | 'correct' | 'clear';

const spoken: Readonly<Record<string, NumberToken>> = {
	zero: '0', one: '1', two: '2', three: '3', four: '4', five: '5', six: '6', seven: '7', eight: '8', nine: '9',
	point: '.', minus: '-', correct: 'correct', Backspace: 'correct', ',': '.'
};

/** The token that a word or key means, or null. */
export function numberToken(word: string): NumberToken | null {
	if (/^[0-9.-]$/.test(word)) return word as NumberToken;
	return spoken[word] ?? null;
}

/** Longest number taken: nobody reads more than this off a view. */
const LONGEST = 9;

/** The entry after a token. A token that makes no number ("1.2.") changes nothing. A change after the echo opens it again. */
export function enter(entry: NumberEntry, token: NumberToken, raw: string): NumberEntry {
	const said = entry.raw === '' ? raw : `${entry.raw} ${raw}`;
	if (token === 'clear') return emptyEntry;
	if (token === 'correct') return { text: entry.text.slice(0, -1), raw: said, echoed: false };
	if (token === '-') return { text: entry.text.startsWith('-') ? entry.text.slice(1) : `-${entry.text}`, raw: said, echoed: false };
	if (token === '.' && entry.text.includes('.')) return entry;
	if (entry.text.length >= LONGEST) return entry;
	return { text: entry.text + token, raw: said, echoed: false };
}

/** A number given whole, in place of what stood there: moved on the drawing. */
export const dragged = (text: string): NumberEntry => ({ text, raw: `drag ${text}`, echoed: false });

/** The number, or null while the text is none. */
export function valueOf(entry: NumberEntry): number | null {
	return /^-?(\d+\.?\d*|\.\d+)$/.test(entry.text) ? Number(entry.text) : null;
}
