/** Begins a formula in a spreadsheet: = + - @ (OWASP, CSV injection; also their full-width forms), blanks before them ignored. */
const formula = /^\s*[=+\-@＝＋－＠]/;
const plainNumber = /^-?\d+(\.\d+)?([eE][+-]?\d+)?$/;
const quoted = /[",\r\n]/;

/**
 * One cell by RFC 4180: quoted where it holds a quote, a comma or a line break. Control characters become blanks. What would
 * begin a formula gets an apostrophe before it; a plain negative number does not.
 */
export function cell(value: string | number | boolean | null): string {
	// eslint-disable-next-line no-control-regex -- they are what is removed
	const text = value === null ? '' : String(value).replace(/[\u0000-\u001f\u007f-\u009f]+/g, ' ');
	const safe = formula.test(text) && !plainNumber.test(text) ? `'${text}` : text;
	return quoted.test(safe) ? `"${safe.replace(/"/g, '""')}"` : safe;
}

/** Records with CRLF at each end, the header first; every record has as many fields as the header. */
export function csvText(header: readonly string[], records: readonly (readonly (string | number | boolean | null)[])[]): string {
	for (const record of records) if (record.length !== header.length) throw new RangeError(`a record has ${record.length} fields; the header has ${header.length}`);
	return [header, ...records].map((record) => record.map(cell).join(',') + '\r\n').join('');
}
