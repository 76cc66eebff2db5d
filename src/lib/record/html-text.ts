/** Words of people and procedures as HTML text or attribute value; control characters and lone surrogates do not travel. */
export const html = (text: string): string => text.replace(forbidden, '').replace(/[&<>"']/g, (one) => escaped[one]!);

// eslint-disable-next-line no-control-regex -- they are what is removed
const forbidden = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;
const escaped: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;', "'": '&#39;' };

/** A string of CSS (CSS Syntax 3, section 4.3.5): all but letters, digits and blanks as code points. */
export const cssString = (text: string): string => `"${[...html(text)].map((one) => (/[\p{L}\p{N} .,:()-]/u.test(one) ? one : `\\${one.codePointAt(0)!.toString(16)} `)).join('')}"`;

/** A table that scrolls by itself where the screen is narrow. Cells are HTML already; the first of each row is its heading. */
export function htmlTable(caption: string, header: readonly string[], rows: readonly (readonly string[])[]): string {
	const head = `<thead><tr>${header.map((cell) => `<th scope="col">${cell}</th>`).join('')}</tr></thead>`;
	const body = rows.map(([first = '', ...rest]) => `<tr><th scope="row">${first}</th>${rest.map((cell) => `<td>${cell}</td>`).join('')}</tr>`).join('\n');
	return `<div class="wide" role="region" aria-label="${caption}" tabindex="0"><table><caption>${caption}</caption>${head}<tbody>\n${body}\n</tbody></table></div>`;
}
