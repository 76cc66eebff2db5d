import { Liquid } from 'liquidjs'; // a template language without code: no file, no network, no script, and limits that it keeps itself
import type { JournalEvent } from '$lib/run/events';
import { contentOf } from './content';
import { durationText } from './durations-text';
import { attachmentName } from './file-names';
import { markdownOf } from './markdown';
import { plain } from './markdown-text';
import type { ReadJournal } from './read-journal';
import { type Report, reportOf } from './report';
import { english } from './words/english';

/** What a lab begins with: its own header, then the record. */
export const FIRST_TEMPLATE = `# {{ date }} {{ procedure }}

- Operator: {{ person }}{% if supervisor %}, supervised by {{ supervisor }}{% endif %}
- Sample: {{ sample | default: "–" }}
- Result: {{ state }} after {{ duration }}
- Record: {{ run }}, {{ head }}

{% for reading in readings %}- {{ reading.step }}: {{ reading.name }} {{ reading.value }} {{ reading.unit }}
{% endfor %}
{% for note in notes %}> {{ note.time }} {{ note.text }}
{% endfor %}
{{ record | raw }}
`;

/** Names that a template may use, with a word of what they hold: shown beside the editor. */
export const TEMPLATE_FIELDS = [
	'date', 'procedure', 'edition', 'person', 'people', 'supervisor', 'sample', 'project', 'began', 'ended', 'state', 'duration', 'paused', 'held', 'booking', 'run', 'head', 'count', 'invented', 'facts',
	'stages', 'readings', 'troubles', 'notes', 'files', 'steps', 'corrections', 'record'
] as const;

const LONGEST = 100_000;

/** A template that cannot be used, in a sentence with line and column. */
export class TemplateFault extends Error {
	override readonly name = 'TemplateFault';
}

/**
 * A run written by a lab's own template (Liquid). What people wrote is escaped as Markdown, so that no note becomes a heading;
 * `| raw` leaves a value as it is, and `record` is the whole Markdown record. Throws TemplateFault where the template is at fault
 * or takes too much, RangeError where the journal has no event 0.
 */
export async function renderTemplate(template: string, journal: ReadJournal): Promise<string> {
	if (template.length > LONGEST) throw new TemplateFault(`the template has ${template.length} characters; expected at most ${LONGEST}`);
	const fields = fieldsOf(reportOf(journal));
	const engine = new Liquid({
		// in memory and empty: nothing can be included from anywhere
		templates: {},
		ownPropertyOnly: true,
		strictVariables: true,
		strictFilters: true,
		outputEscape: (value: unknown) => plain(String(value ?? '')),
		parseLimit: LONGEST,
		renderLimit: 2_000,
		memoryLimit: 20_000_000
	});
	try {
		return (await engine.parseAndRender(template, fields)) as string;
	} catch (thrown) {
		if (thrown instanceof Error) throw new TemplateFault(thrown.message.split('\n')[0]!, { cause: thrown });
		throw thrown;
	}
}

const moment = (at: string): string => `${at.slice(0, 10)} ${at.slice(11, 16)}`;
const time = (at: string): string => at.slice(11, 19);

function fieldsOf(report: Report) {
	const { begun, totals } = report;
	const { facts } = contentOf(report, english);
	const events = report.events as readonly { event: JournalEvent; row: { path: string } | null }[];
	const stepOf = (row: { path: string } | null) => (row ? report.stepTitle(row.path) : '');
	return {
		date: report.beganAt.slice(0, 10), procedure: report.title, edition: begun.edition.version, person: report.people[0] ?? '', people: report.people.join(', '), supervisor: report.supervisor,
		sample: report.sample, project: report.project, began: moment(report.beganAt), ended: moment(report.lastAt), state: english.states[report.status], duration: durationText(totals.elapsedMs),
		paused: durationText(totals.pausedMs), held: durationText(totals.heldMs), booking: report.booking ? moment(report.booking.end) : null, run: report.run, head: report.head, count: report.count,
		invented: begun.invented === true, facts: facts.map(([name, value]) => ({ name, value })), record: markdownOf(report),
		stages: report.stages.map(({ title, plannedMs, time: spent, beganAt, endedAt, leftOut }) => ({
			title, planned: durationText(plannedMs), actual: durationText(spent.elapsedMs), began: beganAt && time(beganAt), ended: endedAt && time(endedAt), left_out: leftOut
		})),
		readings: report.readings.map(({ event: { at, data }, name, undone }) => ({ time: time(at), step: report.stepTitle(data.step), name, value: data.value, unit: data.unit, uncertainty: data.uncertainty, round: data.round, taken_back: undone })),
		troubles: report.troubles.map(({ event: { at, data }, title, undone }) => ({ time: time(at), title, step: report.stepTitle(data.step), taken_back: undone })),
		notes: events.flatMap(({ event, row }) => (event.kind === 'note' ? [{ time: time(event.at), step: stepOf(row), text: event.data.text }] : [])),
		files: events.flatMap(({ event, row }) => (event.kind === 'attachment' ? [{ time: time(event.at), step: stepOf(row), name: attachmentName({ ...event, step: event.data.step, type: event.data.type }), sha256: event.data.sha256 }] : [])),
		steps: report.rows.map((row) => ({ time: time(row.entered.at), title: report.stepTitle(row.path), stage: report.stageTitle(row.stage), outcome: row.outcome === null ? '' : report.answer(row.path, row.outcome), duration: durationText(row.time.elapsedMs), taken_back: row.undone })),
		corrections: events.flatMap(({ event }) => (event.kind === 'corrected' ? [{ time: time(event.at), ...event.data }] : []))
	};
}
