import type { JournalEvent } from '$lib/run/events';
import type { ReadJournal } from './read-journal';
import { reportOf } from './report';

/** What of a run can be searched: one line a fact, as people wrote or see it. */
export interface SearchText {
	/** Local date of the begin, "2026-05-04". */
	readonly date: string;
	readonly lines: readonly string[];
}

export interface RunQuery {
	/** All of its words must be found, in any order, anywhere. */
	readonly words: string;
	/** "2026-05-04", or empty; both ends included. */
	readonly from: string;
	readonly to: string;
}

export const isEmpty = ({ words, from, to }: RunQuery): boolean => !words.trim() && !from && !to;

/** People, procedure, sample, project, parts and what was said of them, readings, troubles, notes, corrections. */
export function searchText(journal: ReadJournal): SearchText {
	const report = reportOf(journal);
	const { begun } = report;
	const parts = Object.entries(begun.parts).map(([part, { is }]) => report.part(part, is));
	return {
		date: report.beganAt.slice(0, 10),
		lines: [
			report.title, `${begun.edition.id} ${begun.edition.version}`, report.run, ...report.people, ...some(report.supervisor), ...some(report.sample), ...some(report.project), ...report.devices,
			...parts, ...(report.events as readonly { event: JournalEvent }[]).flatMap(({ event }) => said(event, report)), ...report.readings.map(({ event, name }) => `${name} ${event.data.value} ${event.data.unit}`)
		]
	};
}

const some = (text: string | null): string[] => (text ? [text] : []);

function said({ kind, data }: JournalEvent, report: ReturnType<typeof reportOf>): string[] {
	switch (kind) {
		case 'note':
			return some(data.text);
		case 'trouble':
			return [report.troubleTitle(data.trouble)];
		case 'partsStated':
			return [...Object.entries(data.parts).map(([part, { is }]) => report.part(part, is)), data.why];
		case 'corrected':
			return [`${data.was} → ${data.is}`, data.why];
		case 'late':
		case 'message':
			return [kind === 'late' ? data.words : data.text];
		case 'skipped':
		case 'aborted':
		case 'endBegun':
			return [kind === 'skipped' ? data.reason : data.why];
		default:
			return [];
	}
}

/** Letters' case and marks do not tell words apart. */
const folded = (text: string): string => text.normalize('NFKD').replace(/\p{M}/gu, '').toLowerCase();

/** Whether a run fits, and the line that tells why: the first that holds one of the words and is not its title. Null: it does not. */
export function found({ date, lines }: SearchText, { words, from, to }: RunQuery): { readonly where: string | null } | null {
	if ((from && date < from) || (to && date > to)) return null;
	const wanted = folded(words).split(/\s+/).filter(Boolean);
	const plain = lines.map(folded);
	if (!wanted.every((word) => plain.some((line) => line.includes(word)))) return null;
	const at = plain.findIndex((line, i) => i > 0 && wanted.some((word) => line.includes(word)));
	return { where: at < 0 ? null : lines[at]! };
}
