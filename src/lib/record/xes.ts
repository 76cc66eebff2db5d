import type { JournalEvent } from '$lib/run/events';
import type { Row } from '$lib/run/rows';
import type { ReadJournal } from './read-journal';
import { type Report, reportOf } from './report';
import { xml } from './xml-text';

/**
 * Runs as an event log for process mining: XES, IEEE 1849-2023, a trace a run, an instance a visit of a step, with the
 * standard lifecycle: start, suspend and resume (paused, held), complete. A step that was left out, interrupted or taken back
 * ends in ate_abort, the step in which a run was ended early in pi_abort, a step of a left-out stage is a manualskip. Times are
 * UTC. The same journals give the same bytes. Throws RangeError where a journal has no event 0.
 */
export async function* toXes(journals: Iterable<ReadJournal> | AsyncIterable<ReadJournal>): AsyncGenerator<string> {
	yield head;
	for await (const journal of journals) {
		const report = reportOf(journal);
		yield `\t<trace>\n${traceAttributes(report).map((one) => `\t\t${one}\n`).join('')}`;
		for (const step of transitions(report)) yield eventText(step, report);
		yield '\t</trace>\n';
	}
	yield '</log>\n';
}

const string = (key: string, value: string) => `<string key="${xml(key)}" value="${xml(value)}"/>`;
const date = (key: string, at: string) => `<date key="${xml(key)}" value="${new Date(at).toISOString()}"/>`;
const int = (key: string, value: number) => `<int key="${xml(key)}" value="${value}"/>`;
/** Clocks count fractions of a millisecond. */
const float = (key: string, value: number) => `<float key="${xml(key)}" value="${value}"/>`;
const boolean = (key: string, value: boolean) => `<boolean key="${xml(key)}" value="${value}"/>`;

/** As an XML Name, which a key must be. */
const nameOf = (text: string) => text.replace(/[^\w.-]/g, '_');

const extension = (name: string, prefix: string) => `\t<extension name="${name}" prefix="${prefix}" uri="http://www.xes-standard.org/${prefix}.xesext"/>\n`;

const head = [
	'<?xml version="1.0" encoding="UTF-8"?>\n',
	'<log xes.version="1.0" xes.features="nested-attributes" xmlns="http://www.xes-standard.org/">\n',
	extension('Concept', 'concept'), extension('Time', 'time'), extension('Lifecycle', 'lifecycle'), extension('Organizational', 'org'),
	`\t<global scope="trace">\n\t\t${string('concept:name', 'unknown')}\n\t</global>\n`,
	'\t<global scope="event">\n',
	...[string('concept:name', 'unknown'), string('concept:instance', 'unknown'), date('time:timestamp', '1970-01-01T00:00:00Z'), string('lifecycle:transition', 'complete'), string('org:resource', 'unknown')].map((one) => `\t\t${one}\n`),
	'\t</global>\n',
	'\t<classifier name="Step" keys="concept:name"/>\n',
	'\t<classifier name="Transition" keys="concept:name lifecycle:transition"/>\n',
	`\t${string('concept:name', 'Handrail runs')}\n`,
	`\t${string('lifecycle:model', 'standard')}\n`
].join('');

function traceAttributes({ begun, run, title, status, sample, project, booking, count, head: hash, fault }: Report): string[] {
	return [
		string('concept:name', run), string('procedure', title), string('edition', `${begun.edition.id} ${begun.edition.version}`), string('edition_sha256', begun.edition.hash), string('state', status),
		...(sample ? [string('sample', sample)] : []), ...(project ? [string('project', project)] : []), ...(booking ? [date('booking_end', booking.end)] : []),
		...(begun.invented ? [boolean('invented', true)] : []), ...(fault ? [string('fault', `event ${fault.seq}: ${fault.reason}`)] : []), int('events', count), string('head_sha256', hash)
	];
}

type Transition = 'start' | 'suspend' | 'resume' | 'complete' | 'ate_abort' | 'pi_abort' | 'manualskip';

interface Step {
	readonly row: Pick<Row, 'path' | 'stage' | 'trouble' | 'undone'> & { readonly seq: number };
	readonly transition: Transition;
	readonly at: string;
	readonly by: string;
	readonly seq: number;
	/** Attributes of the visit's end. */
	readonly more: readonly string[];
}

function* transitions(report: Report): Generator<Step> {
	const ends = new Map(report.rows.flatMap((row) => (row.ended ? [[row.ended.seq, row] as const] : [])));
	/** Left by an answer that is taken back later: they go on then, so that they have not ended here. */
	const left: Row[] = [];
	let open: Row | null = null;
	let suspended = false;
	let away = false;
	const step = (row: Row, transition: Transition, { at, by, seq }: Pick<JournalEvent, 'at' | 'by' | 'seq'>, more: readonly string[] = []): Step => ({ row, transition, at, by, seq, more });
	for (const { event, row } of report.events as readonly { event: JournalEvent; row: Row | null }[]) {
		if (event.kind === 'stepEntered' && row?.seq === event.seq) {
			if (open && suspended) yield step(open, 'resume', event);
			if (open && goesOn(open, event.seq)) left.push(open);
			else if (open) yield step(open, 'ate_abort', event);
			open = row;
			suspended = false;
			yield step(row, 'start', event);
		}
		while (event.kind === 'undone' && open?.undone && event.data.events.includes(open.seq)) {
			yield step(open, 'ate_abort', event, endAttributes(open, report));
			open = left.pop() ?? null;
			suspended = false;
		}
		if (event.kind === 'paused' || event.kind === 'held') away = true;
		if (event.kind === 'resumed') away = false;
		if (open && away !== suspended) {
			suspended = away;
			yield step(open, away ? 'suspend' : 'resume', event);
		}
		const ending = ends.get(event.seq);
		if (ending && ending === open) {
			const how = ending.undone ? 'ate_abort' : endingOf(ending, report);
			if (how === 'complete' && suspended) yield step(open, 'resume', event);
			yield step(open, how, event, endAttributes(ending, report));
			open = null;
			suspended = false;
		}
		if (event.kind === 'skipped' && event.data.stage !== undefined) yield* leftOut(event, report);
		if (event.kind === 'completed' || event.kind === 'aborted') away = false;
	}
}

/** A visit that another one interrupts, but that ends only later, or is itself taken back later. */
const goesOn = ({ ended, undone }: Row, seq: number): boolean => undone || (ended !== null && ended.seq > seq);

function endingOf({ end }: Row, { status }: Report): Transition {
	if (end === 'outcome') return 'complete';
	return end === 'run' ? (status === 'aborted' ? 'pi_abort' : 'complete') : 'ate_abort';
}

/** Steps of a left-out stage that were never begun. */
function* leftOut(event: Extract<JournalEvent, { kind: 'skipped' }>, report: Report): Generator<Step> {
	const entered = new Set(report.rows.map(({ path }) => path));
	const stage = report.begun.edition.body.stages.find(({ id }) => id === event.data.stage);
	for (const path of stage?.steps ?? [])
		if (!entered.has(path)) yield { row: { seq: event.seq, path, stage: stage!.id, trouble: null, undone: false }, transition: 'manualskip', at: event.at, by: event.by, seq: event.seq, more: [string('reason', event.data.reason)] };
}

function endAttributes(row: Row, report: Report): string[] {
	return [
		...(row.outcome === null ? [] : [string('outcome', report.answer(row.path, row.outcome))]),
		...(row.reason === null ? [] : [string('reason', row.reason)]),
		float('elapsed_ms', row.time.elapsedMs), float('paused_ms', row.time.pausedMs), float('held_ms', row.time.heldMs),
		...row.readings.map(({ reading, round, seq, value, unit, undone }) => `<float key="${nameOf(`reading_${reading}_${round}_${seq}`)}" value="${value}">${string('unit', unit)}${boolean('taken_back', undone)}</float>`)
	];
}

function eventText({ row, transition, at, by, seq, more }: Step, report: Report): string {
	const attributes = [
		string('concept:name', report.stepTitle(row.path)), string('concept:instance', `${row.path} ${row.seq}`), string('lifecycle:transition', transition), date('time:timestamp', at), string('org:resource', by),
		string('step', row.path), string('stage', row.stage), ...(row.trouble === null ? [] : [string('trouble', row.trouble)]), boolean('taken_back', row.undone), int('event', seq), ...more
	];
	return `\t\t<event>\n${attributes.map((one) => `\t\t\t${one}\n`).join('')}\t\t</event>\n`;
}
