import { instrumentText } from './instrument-text';
import type { JournalEvent } from '$lib/run/events';
import type { Totals } from '$lib/run/totals';
import { durationText, offsetText } from './durations-text';
import { attachmentName } from './file-names';
import type { Report, StageLine } from './report';
import { type ExportWords, fill } from './words/export-words';

/** What a written record says, in order and in plain text; each format that people read escapes and lays it out its own way. */
export interface Content {
	readonly title: string;
	/** That it is a demonstration, or broken. */
	readonly warnings: readonly string[];
	readonly facts: readonly Fact[];
	readonly sections: readonly Section[];
}
export type Fact = readonly [name: string, value: string];
/** A table, a list, or neither where there is nothing to tell. */
export interface Section {
	readonly title: string;
	readonly table?: Table;
	readonly list?: readonly string[];
}
export interface Table {
	readonly header: readonly string[];
	readonly rows: readonly (readonly string[])[];
}

export function contentOf(report: Report, words: ExportWords): Content {
	const { sections } = words;
	return {
		title: fill(words.recordOf, { title: report.title }),
		warnings: warnings(report, words),
		facts: facts(report, words),
		sections: [
			{ title: sections.stages, table: stages(report, words) },
			tabled(sections.readings, readings(report, words)),
			tabled(sections.troubles, troubles(report, words)),
			listed(sections.notes, notes(report, words)),
			listed(sections.changes, changes(report, words)),
			{ title: sections.steps, table: steps(report, words) },
			{ title: sections.cautions, list: words.cautions }
		]
	};
}

const tabled = (title: string, table: Table): Section => (table.rows.length ? { title, table } : { title });
const listed = (title: string, list: readonly string[]): Section => (list.length ? { title, list } : { title });

/** Date and time to the second, as the device showed them, with the offset. */
const moment = (at: string): string => `${at.slice(0, 10)} ${at.slice(11, 19)} ${at.endsWith('Z') ? '+00:00' : at.slice(-6)}`;
const clockTime = (at: string): string => at.slice(11, 19);

function warnings(report: Report, words: ExportWords): string[] {
	return [...(report.begun.invented ? [words.invented] : []), ...(report.fault ? [fill(words.brokenAt, { seq: report.fault.seq, reason: report.fault.reason })] : [])];
}

function facts(report: Report, words: ExportWords): Fact[] {
	const { fields, states, columns, eventsAndHead, offset } = words;
	const { begun, booking, totals } = report;
	const { edition } = begun;
	const ended = report.status === 'complete' || report.status === 'aborted';
	const rows: Fact[] = [
		[fields.procedure, `${report.title} (${edition.id})`],
		[fields.edition, `${edition.version}, ${edition.hash}`],
		[fields.person, report.people.join(', ')],
		[fields.supervisor, report.supervisor ?? ''],
		[fields.sample, report.sample],
		[fields.project, report.project],
		[fields.began, moment(report.beganAt)],
		[ended ? fields.ended : fields.lastEvent, moment(report.lastAt)],
		[fields.state, states[report.status]],
		[fields.booking, booking ? [booking.start, booking.end].map((at) => (at ? moment(at) : '')).filter(Boolean).join(' – ') : ''],
		[fields.time, timeWords(totals, columns)],
		[fields.clock, report.clockOffsetMs ? fill(offset, { offset: offsetText(report.clockOffsetMs) }) : ''],
		[fields.instrument, begun.instrument ? instrumentText(begun.instrument, words) : ''],
		[fields.device, report.devices.join(', ')],
		[fields.run, report.run],
		[fields.record, fill(eventsAndHead, { count: report.count, head: report.head })]
	];
	return rows.filter(([, value]) => value);
}

function timeWords({ elapsedMs, pausedMs, heldMs, gaps, gapWallMs }: Totals, columns: ExportWords['columns']): string {
	const rest: [string, number][] = [[columns.paused, pausedMs], [columns.held, heldMs], [columns.notMeasured, gaps ? gapWallMs : 0]];
	return [durationText(elapsedMs), ...rest.filter(([, ms]) => ms).map(([name, ms]) => `${name.toLowerCase()} ${durationText(ms)}`)].join(', ');
}

const some = (ms: number): string => (ms ? durationText(ms) : '');
const gap = ({ gaps, gapWallMs }: Totals): string => (gaps ? durationText(gapWallMs) : '');

function stages(report: Report, words: ExportWords): Table {
	const { columns } = words;
	const state = (stage: StageLine) =>
		stage.leftOut !== null ? fill(words.leftOutBecause, { reason: stage.leftOut }) : stage.reached ? durationText(stage.time.elapsedMs) : words.notReached;
	const rows = report.stages.map((stage) => [
		stage.title, durationText(stage.plannedMs), state(stage), some(stage.time.pausedMs), some(stage.time.heldMs), gap(stage.time),
		stage.beganAt ? clockTime(stage.beganAt) : '', stage.endedAt ? clockTime(stage.endedAt) : ''
	]);
	const planned = report.stages.reduce((sum, { plannedMs }) => sum + plannedMs, 0);
	const { totals } = report;
	const all = [columns.total, durationText(planned), durationText(totals.elapsedMs), some(totals.pausedMs), some(totals.heldMs), gap(totals), clockTime(report.beganAt), clockTime(report.lastAt)];
	return { header: [columns.stage, columns.planned, columns.actual, columns.paused, columns.held, columns.notMeasured, columns.began, columns.ended], rows: [...rows, all] };
}

function readings(report: Report, words: ExportWords): Table {
	const { columns } = words;
	const rows = report.readings.map(({ event, name, undone }) => {
		const { step, value, unit, uncertainty, round } = event.data;
		const remarks = [round > 1 ? fill(words.round, { round }) : '', undone ? words.takenBack : ''];
		return [clockTime(event.at), report.stepTitle(step), name, String(value), unit, uncertainty === null ? '' : String(uncertainty), remarks.filter(Boolean).join(', ')];
	});
	return { header: [columns.time, columns.step, columns.reading, columns.value, columns.unit, columns.uncertainty, columns.remark], rows };
}

function troubles(report: Report, words: ExportWords): Table {
	const { columns } = words;
	const rows = report.troubles.map(({ event, title, undone, wayBack }) => {
		const way = !wayBack ? words.open : wayBack.to === 'safe end' ? words.safeEnd : fill(words.backTo, { step: report.stepTitle(wayBack.to), time: clockTime(wayBack.at) });
		return [clockTime(event.at), title, report.stepTitle(event.data.step), undone ? words.takenBack : way];
	});
	return { header: [columns.time, columns.trouble, columns.step, columns.way], rows };
}

const line = ({ at }: Pick<JournalEvent, 'at'>, where: string, what: string): string => `${clockTime(at)}${where ? `, ${where}` : ''}: ${what}`;

function notes(report: Report, words: ExportWords): string[] {
	return (report.events as readonly { event: JournalEvent; row: { path: string } | null }[]).flatMap(({ event, row }) => {
		const where = row ? report.stepTitle(row.path) : '';
		if (event.kind === 'note') return [line(event, where, event.data.text)];
		if (event.kind !== 'attachment') return [];
		const { at, seq, data } = event;
		const what = data.type.startsWith('audio/') ? words.spokenNote : data.type.startsWith('image/') ? words.photograph : words.file;
		return [line(event, where, `${what} ${attachmentName({ at, seq, step: data.step, type: data.type })}, ${data.bytes} B, SHA-256 ${data.sha256}`)];
	});
}

/** What was corrected, stated or moved, and what this version does not understand. */
function changes(report: Report, words: ExportWords): string[] {
	return report.events.flatMap(({ event, undone }) => {
		const what = changeWords(event as JournalEvent, report, words);
		return what === null ? [] : [line(event, '', what + (undone ? ` (${words.takenBack})` : ''))];
	});
}

function changeWords({ kind, data }: JournalEvent, report: Report, words: ExportWords): string | null {
	switch (kind) {
		case 'corrected':
			return fill(words.corrected, { event: data.event, field: data.field, was: data.was, is: data.is, why: data.why });
		case 'late':
			return fill(words.doneEarlier, { step: report.stepTitle(data.step), time: data.done, words: data.words });
		case 'partsStated':
			return fill(words.statedParts, { parts: Object.entries(data.parts).map(([part, { is }]) => report.part(part, is)).join('; '), why: data.why });
		case 'bookingChanged':
			return fill(words.bookingMoved, { was: data.was ?? '–', end: data.end ?? '–' });
		case 'details':
			return data.instrument ? fill(words.instrument.changed, { what: instrumentText(data.instrument, words) }) : null;
		case 'penTaken':
			return fill(words.penTaken, { from: data.from, to: data.device });
		default:
			return report.foreign.has(kind) ? fill(words.notUnderstood, { kind }) : null;
	}
}

function steps(report: Report, words: ExportWords): Table {
	const { columns } = words;
	const rows = report.rows.map((row) => {
		const outcome = row.outcome !== null ? report.answer(row.path, row.outcome) : row.reason !== null ? fill(words.leftOutBecause, { reason: row.reason }) : '';
		const where = row.trouble === null ? report.stageTitle(row.stage) : report.troubleTitle(row.trouble);
		return [clockTime(row.entered.at), where, report.stepTitle(row.path), outcome, durationText(row.time.elapsedMs), some(row.time.pausedMs + row.time.heldMs), gap(row.time), row.undone ? words.takenBack : ''];
	});
	return { header: [columns.time, columns.stage, columns.step, columns.outcome, columns.actual, `${columns.paused}, ${columns.held.toLowerCase()}`, columns.notMeasured, columns.remark], rows };
}
