const alphabet = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_';

/** Base64url without padding (RFC 4648 section 5, as JOSE uses it). */
export function toBase64url(bytes: Uint8Array): string {
	let text = '';
	for (let i = 0; i < bytes.length; i += 3) {
		const [a, b, c] = [bytes[i]!, bytes[i + 1], bytes[i + 2]];
		text += alphabet[a >> 2]! + alphabet[((a & 3) << 4) | ((b ?? 0) >> 4)]!;
		if (b !== undefined) text += alphabet[((b & 15) << 2) | ((c ?? 0) >> 6)]!;
		if (c !== undefined) text += alphabet[c & 63]!;
	}
	return text;
}

/** Null where the text is not the one base64url form of some bytes: unknown letters, a wrong length, bits left over. */
export function fromBase64url(text: string): Uint8Array | null {
	const bytes: number[] = [];
	let [bits, held] = [0, 0];
	for (const letter of text) {
		const value = alphabet.indexOf(letter);
		if (value < 0) return null;
		held = ((held << 6) | value) & 0xfff;
		bits += 6;
		if (bits < 8) continue;
		bits -= 8;
		bytes.push((held >> bits) & 0xff);
	}
	const made = Uint8Array.from(bytes);
	return toBase64url(made) === text ? made : null;
}
