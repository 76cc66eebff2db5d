import QRCode from 'qrcode'; // ISO/IEC 18004 codes, long kept, no network; only the label sheet loads it

/** A code as one SVG path on a field of `size` × `size` modules, quiet zone of four included (ISO/IEC 18004, from memory). */
export interface QrDrawn {
	readonly size: number;
	readonly path: string;
}

const QUIET = 4;

/** Level M: about 15 % of the code may be unreadable. */
export function drawQr(text: string): QrDrawn {
	const { modules } = QRCode.create(text, { errorCorrectionLevel: 'M' });
	const rows = Array.from({ length: modules.size }, (_, y) =>
		Array.from({ length: modules.size }, (_, x) => (modules.get(y, x) ? `M${x + QUIET} ${y + QUIET}h1v1h-1z` : '')).join('')
	);
	return { size: modules.size + 2 * QUIET, path: rows.join('') };
}
