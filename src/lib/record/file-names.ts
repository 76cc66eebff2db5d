/**
 * File names that sort by time and say what they are: local date and time as stamped, then words in lower-case ASCII.
 * Nothing in them needs quoting on any file system; no name is longer than 120 characters.
 */

/** "2026-05-04T08:12:03.123+02:00" → "20260504-081203". */
export const stampInName = (at: string): string => at.slice(0, 19).replace(/[-:]/g, '').replace('T', '-');

/** Words as they may stand in a file name; empty where nothing is left of them. */
export const slug = (words: string): string =>
	words
		.normalize('NFKD')
		.replace(/\p{M}/gu, '')
		.toLowerCase()
		.replace(/[^a-z0-9]+/g, '-')
		.replace(/^-+|-+$/g, '')
		.slice(0, 40)
		.replace(/-+$/, '');

/** Name of an export: begin, procedure, sample, the run's first eight digits. */
export function exportName(run: { readonly beganAt: string; readonly procedure: string; readonly sample: string; readonly run: string }, ending: string): string {
	return [stampInName(run.beganAt), slug(run.procedure), slug(run.sample), run.run.slice(0, 8)].filter(Boolean).join('_') + `.${ending}`;
}

const endings: Readonly<Record<string, string>> = {
	'image/jpeg': 'jpg', 'image/png': 'png', 'image/webp': 'webp', 'audio/webm': 'webm', 'audio/ogg': 'ogg', 'audio/mp4': 'm4a', 'audio/wav': 'wav', 'audio/x-wav': 'wav', 'text/plain': 'txt'
};

/** Name of a photograph or spoken note: time, event number, step. */
export function attachmentName(attachment: { readonly at: string; readonly seq: number; readonly step: string | null; readonly type: string }): string {
	const ending = endings[attachment.type.split(';')[0]!.trim().toLowerCase()] ?? 'bin';
	return [stampInName(attachment.at), String(attachment.seq).padStart(5, '0'), slug(attachment.step ?? '')].filter(Boolean).join('_') + `.${ending}`;
}
