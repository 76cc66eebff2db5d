import type { JournalEvent } from '$lib/run/events';
import type { Totals } from '$lib/run/totals';
import { durationText, offsetText } from './durations-text';
import { attachmentName } from './file-names';
import { plain, table } from './markdown-text';
import type { ReadJournal } from './read-journal';
import { type Report, reportOf, type StageLine } from './report';
import { english } from './words/english';
import { type ExportWords, fill } from './words/export-words';

/**
 * A run as Markdown, made to be pasted into a session log: one header block, stages, readings, troubles, notes, changes,
 * steps, cautions. The same journal gives the same bytes. Throws RangeError where there is no event 0.
 */
export function toMarkdown(journal: ReadJournal, words: ExportWords = english): string {
	const report = reportOf(journal);
	const { sections } = words;
	const parts = [
		`## ${plain(fill(words.recordOf, { title: report.title }))}`,
		...warnings(report, words),
		header(report, words),
		`### ${sections.stages}\n\n${stages(report, words)}`,
		`### ${sections.readings}\n\n${readings(report, words) ?? words.none}`,
		`### ${sections.troubles}\n\n${troubles(report, words) ?? words.none}`,
		`### ${sections.notes}\n\n${notes(report, words) ?? words.none}`,
		`### ${sections.changes}\n\n${changes(report, words) ?? words.none}`,
		`### ${sections.steps}\n\n${steps(report, words)}`,
		`### ${sections.cautions}\n\n${words.cautions.map((caution) => `- ${plain(caution)}`).join('\n')}`
	];
	return parts.join('\n\n') + '\n';
}

/** Date and time to the second, as the device showed them, with the offset. */
const moment = (at: string): string => `${at.slice(0, 10)} ${at.slice(11, 19)} ${offsetOf(at)}`;
const clockTime = (at: string): string => at.slice(11, 19);
const offsetOf = (at: string): string => (at.endsWith('Z') ? '+00:00' : at.slice(-6));

function warnings(report: Report, words: ExportWords): string[] {
	const lines: string[] = [];
	if (report.begun.invented) lines.push(`> ${words.invented}`);
	if (report.fault) lines.push(`> ${plain(fill(words.brokenAt, { seq: report.fault.seq, reason: report.fault.reason }))}`);
	return lines;
}

function header(report: Report, { fields, states, columns, eventsAndHead, offset }: ExportWords): string {
	const { begun, booking, totals } = report;
	const { edition } = begun;
	const ended = report.status === 'complete' || report.status === 'aborted';
	const rows: [string, string][] = [
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
		[fields.device, report.devices.join(', ')],
		[fields.run, report.run],
		[fields.record, fill(eventsAndHead, { count: report.count, head: report.head })]
	];
	return rows.filter(([, value]) => value).map(([name, value]) => `- **${name}:** ${plain(value)}`).join('\n');
}

function timeWords({ elapsedMs, pausedMs, heldMs, gaps, gapWallMs }: Totals, columns: ExportWords['columns']): string {
	const rest: [string, number][] = [[columns.paused, pausedMs], [columns.held, heldMs], [columns.notMeasured, gaps ? gapWallMs : 0]];
	return [durationText(elapsedMs), ...rest.filter(([, ms]) => ms).map(([name, ms]) => `${name.toLowerCase()} ${durationText(ms)}`)].join(', ');
}

const some = (ms: number): string => (ms ? durationText(ms) : '');
const gap = ({ gaps, gapWallMs }: Totals): string => (gaps ? durationText(gapWallMs) : '');

function stages(report: Report, words: ExportWords): string {
	const { columns } = words;
	const state = (stage: StageLine) =>
		stage.leftOut !== null ? plain(fill(words.leftOutBecause, { reason: stage.leftOut })) : stage.reached ? durationText(stage.time.elapsedMs) : words.notReached;
	const rows = report.stages.map((stage) => [
		plain(stage.title), durationText(stage.plannedMs), state(stage), some(stage.time.pausedMs), some(stage.time.heldMs), gap(stage.time),
		stage.beganAt ? clockTime(stage.beganAt) : '', stage.endedAt ? clockTime(stage.endedAt) : ''
	]);
	const planned = report.stages.reduce((sum, { plannedMs }) => sum + plannedMs, 0);
	const { totals } = report;
	const all = [words.columns.total, durationText(planned), durationText(totals.elapsedMs), some(totals.pausedMs), some(totals.heldMs), gap(totals), clockTime(report.beganAt), clockTime(report.lastAt)];
	return table([columns.stage, columns.planned, columns.actual, columns.paused, columns.held, columns.notMeasured, columns.began, columns.ended], [...rows, all]);
}

function readings(report: Report, words: ExportWords): string | null {
	const { columns } = words;
	const rows = report.readings.map(({ event, name, undone }) => {
		const { step, value, unit, uncertainty, round } = event.data;
		const remarks = [round > 1 ? fill(words.round, { round }) : '', undone ? words.takenBack : ''];
		return [clockTime(event.at), plain(report.stepTitle(step)), plain(name), String(value), plain(unit), uncertainty === null ? '' : String(uncertainty), remarks.filter(Boolean).join(', ')];
	});
	return rows.length ? table([columns.time, columns.step, columns.reading, columns.value, columns.unit, columns.uncertainty, columns.remark], rows) : null;
}

function troubles(report: Report, words: ExportWords): string | null {
	const { columns } = words;
	const rows = report.troubles.map(({ event, title, undone, wayBack }) => {
		const way = !wayBack ? words.open : wayBack.to === 'safe end' ? words.safeEnd : fill(words.backTo, { step: report.stepTitle(wayBack.to), time: clockTime(wayBack.at) });
		return [clockTime(event.at), plain(title), plain(report.stepTitle(event.data.step)), undone ? words.takenBack : plain(way)];
	});
	return rows.length ? table([columns.time, columns.trouble, columns.step, columns.way], rows) : null;
}

function notes(report: Report, words: ExportWords): string | null {
	const lines = report.events.flatMap(({ event, row }) => {
		const where = row ? plain(report.stepTitle(row.path)) : '';
		if (event.kind === 'note') return [line(event as JournalEvent, where, plain((event as Extract<JournalEvent, { kind: 'note' }>).data.text))];
		if (event.kind !== 'attachment') return [];
		const { at, seq, data } = event as Extract<JournalEvent, { kind: 'attachment' }>;
		const what = data.type.startsWith('audio/') ? words.spokenNote : data.type.startsWith('image/') ? words.photograph : words.file;
		return [line(event as JournalEvent, where, `${what} ${plain(attachmentName({ at, seq, step: data.step, type: data.type }))}, ${data.bytes} B, SHA-256 ${data.sha256}`)];
	});
	return lines.length ? lines.join('\n') : null;
}

const line = ({ at }: JournalEvent, where: string, what: string): string => `- ${clockTime(at)}${where ? `, ${where}` : ''}: ${what}`;

/** What was corrected, stated or moved, and what this version does not understand. */
function changes(report: Report, words: ExportWords): string | null {
	const told = report.events.flatMap(({ event, undone }) => {
		const what = changeWords(event as JournalEvent, report, words);
		return what === null ? [] : [line(event as JournalEvent, '', plain(what) + (undone ? ` (${words.takenBack})` : ''))];
	});
	return told.length ? told.join('\n') : null;
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
		case 'penTaken':
			return fill(words.penTaken, { from: data.from, to: data.device });
		default:
			return report.foreign.has(kind) ? fill(words.notUnderstood, { kind }) : null;
	}
}

function steps(report: Report, words: ExportWords): string {
	const { columns } = words;
	const rows = report.rows.map((row) => {
		const outcome = row.outcome !== null ? report.answer(row.path, row.outcome) : row.reason !== null ? fill(words.leftOutBecause, { reason: row.reason }) : '';
		const where = row.trouble === null ? report.stageTitle(row.stage) : report.troubleTitle(row.trouble);
		return [
			clockTime(row.entered.at), plain(where), plain(report.stepTitle(row.path)), plain(outcome), durationText(row.time.elapsedMs), some(row.time.pausedMs + row.time.heldMs), gap(row.time), row.undone ? words.takenBack : ''
		];
	});
	return table([columns.time, columns.stage, columns.step, columns.outcome, columns.actual, `${columns.paused}, ${columns.held.toLowerCase()}`, columns.notMeasured, columns.remark], rows);
}
