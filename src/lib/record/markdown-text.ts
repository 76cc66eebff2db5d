/** Text of people and procedures as it may stand anywhere in Markdown (CommonMark 0.31, section 2.4: backslash escapes). */
export const plain = (text: string): string =>
	text
		.replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f]/g, '') // eslint-disable-line no-control-regex -- they must not travel into a notebook
		.replace(/[\\`*_{}[\]<>|#~]/g, '\\$&')
		.replace(/\s*\r?\n\s*/g, ' ')
		.trim();

/** A table with a header; cells are Markdown already. */
export function table(header: readonly string[], rows: readonly (readonly string[])[]): string {
	const line = (cells: readonly string[]) => `| ${cells.join(' | ')} |`;
	return [line(header), line(header.map(() => '---')), ...rows.map(line)].join('\n');
}
