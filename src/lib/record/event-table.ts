import type { JournalEvent } from '$lib/run/events';
import type { EventLine, Report } from './report';

/**
 * The table that CSV and Parquet share: one record an event. Times of a visit of a step stand at its `stepEntered`. `text` is
 * what was said, written, answered or given as reason; durations are milliseconds.
 */
export const EVENT_COLUMNS = [
	'run', 'seq', 'at', 'mono_ms', 'boot', 'kind', 'stage', 'step', 'step_title', 'visit', 'name', 'value', 'unit', 'uncertainty', 'text', 'taken_back',
	'elapsed_ms', 'paused_ms', 'held_ms', 'not_measured_ms', 'planned_ms', 'by', 'under', 'device', 'via', 'heard', 'confidence', 'hash'
] as const;
export type EventColumn = (typeof EVENT_COLUMNS)[number];
export type EventRecord = Readonly<Record<EventColumn, string | number | boolean | null>>;

export function eventRecord({ event, row, undone }: EventLine, report: Report): EventRecord {
	const entered = event.kind === 'stepEntered' && row?.seq === event.seq ? row : null;
	return {
		run: event.run, seq: event.seq, at: event.at, mono_ms: event.mono, boot: event.boot, kind: event.kind,
		stage: row?.stage ?? null, step: row?.path ?? null, step_title: row ? report.stepTitle(row.path) : null, visit: row?.visit ?? null,
		...told(event as JournalEvent, report), taken_back: undone,
		elapsed_ms: entered?.time.elapsedMs ?? null, paused_ms: entered?.time.pausedMs ?? null, held_ms: entered?.time.heldMs ?? null,
		not_measured_ms: entered?.time.gaps ? entered.time.gapWallMs : null,
		planned_ms: entered ? (report.begun.edition.body.steps[entered.path]?.plannedMs ?? null) : null,
		by: event.by, under: event.under ?? null, device: event.device, via: event.via, heard: event.heard ?? null, confidence: event.confidence ?? null, hash: event.hash
	};
}

interface Told {
	readonly name: string | null;
	readonly value: string | number | null;
	readonly unit: string | null;
	readonly uncertainty: number | null;
	readonly text: string | null;
}
const nothing: Told = { name: null, value: null, unit: null, uncertainty: null, text: null };

/** What an event says, in the columns that all kinds share. */
function told({ kind, data }: JournalEvent, report: Report): Told {
	switch (kind) {
		case 'begun':
			return { ...nothing, name: report.title, text: data.edition.hash };
		case 'outcome':
			return { ...nothing, name: data.outcome, text: report.answer(data.step, data.outcome) };
		case 'undone':
			return { ...nothing, name: data.restores, text: data.events.join(' ') };
		case 'paused':
			return { ...nothing, text: data.reason };
		case 'held':
			return { ...nothing, name: data.why, text: data.about };
		case 'reading':
			return { name: data.reading, value: data.value, unit: data.unit, uncertainty: data.uncertainty, text: data.confirmed ? data.raw : `not confirmed: ${data.raw}` };
		case 'choice':
			return { ...nothing, name: data.ask, value: data.answer };
		case 'confirmed':
			return { ...nothing, name: data.signal, text: data.readBack };
		case 'skipped':
			return { ...nothing, name: data.stage ?? data.step, text: data.reason };
		case 'trouble':
			return { ...nothing, name: data.trouble, text: report.troubleTitle(data.trouble) };
		case 'wayBack':
			return { ...nothing, name: data.trouble, text: data.to };
		case 'note':
			return { ...nothing, text: data.text, name: data.sound ?? null };
		case 'attachment':
			return { name: data.name, value: data.bytes, unit: 'B', uncertainty: null, text: `${data.type} ${data.sha256}` };
		case 'partsStated':
			return { ...nothing, text: Object.entries(data.parts).map(([part, { is, known }]) => `${report.part(part, is)} (${known})`).join('; '), name: data.why };
		case 'late':
			return { ...nothing, name: data.step, value: data.done, text: data.words };
		case 'bookingChanged':
			return { ...nothing, value: data.end, text: data.was };
		case 'penGiven':
			return { ...nothing, name: data.to };
		case 'penTaken':
			return { ...nothing, name: data.device, text: data.from };
		case 'message':
			return { ...nothing, name: data.to, text: data.text };
		case 'corrected':
			return { ...nothing, name: `${data.event} ${data.field}`, value: data.is, text: `was ${data.was}; ${data.why}` };
		case 'hands':
			return { ...nothing, value: data.are };
		case 'details':
			return { ...nothing, text: Object.entries(data).map(([field, value]) => `${field}: ${typeof value === 'object' && value ? foreignText(value) : (value ?? '')}`).join('; ') };
		case 'clockOffset':
			return { ...nothing, value: data.offsetMs, unit: 'ms' };
		case 'reopened':
			return { ...nothing, value: data.lastAt, text: data.mended.join('; ') };
		case 'endBegun':
		case 'aborted':
			return { ...nothing, text: data.why };
		case 'closed':
			return { ...nothing, name: data.root, value: data.count, text: data.signature };
		case 'stepEntered':
		case 'resumed':
		case 'completed':
			return nothing;
		default:
			return { ...nothing, text: foreignText(data) };
	}
}

/** A kind of a later version: its data as it is. */
const foreignText = (data: unknown): string => JSON.stringify(data);
