/**
 * Content lines of iCalendar (RFC 5545). Written here: the libraries that write calendars either need a newer Node than the
 * project's floor or bring time zones and recurrence, of which a record has none.
 */

/** Text value, section 3.3.11. */
export const icsText = (text: string): string =>
	// eslint-disable-next-line no-control-regex -- they must not travel into a calendar
	text.replace(/\r\n?/g, '\n').replace(/[\u0000-\u0009\u000b-\u001f\u007f]/g, ' ').replace(/[\\;,]/g, '\\$&').replace(/\n/g, '\\n');

/** Date with time in UTC, section 3.3.5; whole seconds. */
export const icsUtc = (at: string): string => new Date(Math.floor(Date.parse(at) / 1000) * 1000).toISOString().slice(0, 19).replace(/[-:]/g, '') + 'Z';

const encoder = new TextEncoder();

/** A content line with its CRLF, folded before it is longer than 75 octets (section 3.1), never inside a character. */
export function icsLine(name: string, value: string): string {
	let [text, octets] = ['', 0];
	for (const character of `${name}:${value}`) {
		const size = encoder.encode(character).length;
		if (octets + size > 75) {
			text += '\r\n ';
			octets = 1;
		}
		text += character;
		octets += size;
	}
	return text + '\r\n';
}
