import type { EventData, JournalEvent } from '$lib/run/events';
import type { Row } from '$lib/run/rows';
import type { ReadingLine, Report } from './report';
import { unitCode } from './unit-codes';

/** An entity of the flat graph: it names others by `@id` only. */
export interface Entity {
	readonly '@id': string;
	readonly '@type': string | readonly string[];
	readonly [property: string]: unknown;
}

/** A file of the run's folder, as the graph describes it. */
export interface CrateFile {
	readonly name: string;
	readonly description: string;
	readonly type: string;
	readonly bytes: number;
	readonly sha256: string;
	readonly at: string;
	/** Event that attached it. */
	readonly seq: number | null;
}

/** Media type of the journal: JSON Lines. */
export const JOURNAL_TYPE = 'application/jsonl';
export const METADATA = 'ro-crate-metadata.json';
const PROFILE = 'https://w3id.org/ro/wfrun/process/0.5';
/** A name that never resolves (RFC 2606): the project has no address of its own. */
const HOME = 'https://handrail.invalid/';
const ref = (id: string) => ({ '@id': id });
const refs = (entities: readonly Entity[]) => entities.map((entity) => ref(entity['@id']));
const some = <T>(name: string, value: T | null | undefined | '') => (value === null || value === undefined || value === '' ? {} : { [name]: value });

/**
 * The metadata of an .eln archive with one run: RO-Crate 1.1 with the Process Run Crate profile 0.5, an action a visit of a step. The
 * instrument of an action is the guide, as the profile asks for software; the microscope is named in the procedure.
 * `folder` is the run's folder, `text` its record as HTML, `version` that of the program.
 */
export function crateOf(report: Report, folder: string, files: readonly CrateFile[], text: string, version: string): object {
	const people = new Map(report.people.map((name, i) => [name, `#person-${i + 1}`]));
	const fileId = (name: string) => `./${folder}/${encodeURIComponent(name)}`;
	const readings = report.readings.flatMap(readingEntities);
	const actions = report.rows.map((row) => actionOf(row, report, people, (name) => fileId(name), files));
	const comments = commentsOf(report, people);
	const fileEntities = files.map((file): Entity => ({
		'@id': fileId(file.name), '@type': 'File', name: file.name, description: file.description, encodingFormat: file.type, contentSize: String(file.bytes), sha256: file.sha256, dateModified: file.at
	}));
	const dataset: Entity = {
		'@id': `./${folder}/`, '@type': 'Dataset', name: nameOf(report), author: ref(people.get(report.people[0] ?? '') ?? '#person-1'), identifier: report.run, genre: 'experiment',
		dateCreated: report.beganAt, dateModified: report.lastAt, creativeWorkStatus: report.status, keywords: [report.begun.edition.id, report.sample, report.project].filter(Boolean).join(', '),
		text, encodingFormat: 'text/html', hasPart: refs(fileEntities), comment: refs(comments), ...(readings.length ? { variableMeasured: refs(report.readings.map(({ event }) => ({ '@id': readingId(event.seq), '@type': 'PropertyValue' }))) } : {})
	};
	const root: Entity = {
		'@id': './', '@type': 'Dataset', name: nameOf(report), description: describing(report), datePublished: report.lastAt, license: ref('#license'), author: dataset['author'], publisher: ref('#publisher'), conformsTo: ref(PROFILE),
		hasPart: [ref(dataset['@id'])], ...(actions.length ? { mentions: refs(actions) } : {})
	};
	const descriptor: Entity = { '@id': METADATA, '@type': 'CreativeWork', about: ref('./'), conformsTo: ref('https://w3id.org/ro/crate/1.1'), dateCreated: report.lastAt, version: '1.0', sdPublisher: ref('#publisher') };
	return {
		// the term sha256 is not in the context of RO-Crate 1.1
		'@context': ['https://w3id.org/ro/crate/1.1/context', { sha256: 'https://schema.org/sha256' }],
		'@graph': [
			descriptor, root, dataset, ...fileEntities,
			...[...people].map(([name, id]): Entity => ({ '@id': id, '@type': 'Person', name })),
			{ '@id': '#publisher', '@type': 'Organization', name: 'Handrail', url: HOME },
			{ '@id': '#handrail', '@type': 'SoftwareApplication', name: 'Handrail', url: HOME, softwareVersion: version, version },
			{ '@id': PROFILE, '@type': 'CreativeWork', name: 'Process Run Crate', version: '0.5' },
			{ '@id': '#license', '@type': 'CreativeWork', name: 'No licence stated', description: 'Ask the author before using it.' },
			...actions, ...readings, ...comments
		]
	};
}

const nameOf = ({ title, sample }: Report): string => [title, sample].filter(Boolean).join(', ');
const describing = ({ title, begun, run, people, count, head, fault }: Report): string =>
	[
		`${title}, edition ${begun.edition.version}, by ${people.join(', ')}; run ${run}, ${count} events, head ${head}.`,
		...(begun.invented ? ['Demonstration: invented people, instrument and sample.'] : []),
		...(fault ? [`The journal is broken at event ${fault.seq}: ${fault.reason}.`] : [])
	].join(' ');

const readingId = (seq: number) => `#reading-${seq}`;

function readingEntities({ event: { seq, data }, name, undone }: ReadingLine): Entity[] {
	const unit = { ...some('unitText', data.unit), ...some('unitCode', unitCode(data.unit)) };
	const uncertainty: Entity[] = data.uncertainty === null ? [] : [{ '@id': `${readingId(seq)}-uncertainty`, '@type': 'PropertyValue', name: 'standard uncertainty', value: data.uncertainty, ...unit }];
	return [
		{ '@id': readingId(seq), '@type': 'PropertyValue', name, value: data.value, ...unit, propertyID: `${data.step}/${data.reading}`, ...some('description', undone ? 'taken back' : ''), ...(uncertainty[0] ? { valueReference: ref(uncertainty[0]['@id']) } : {}) },
		...uncertainty
	];
}

/** What came of a visit of a step, in schema.org's words; anything but an answer is told as an error with its reason. */
function statusOf(row: Row, report: Report): { readonly status: string | null; readonly error: string | null } {
	if (row.undone) return { status: 'FailedActionStatus', error: 'taken back' };
	if (row.end === 'left out') return { status: 'FailedActionStatus', error: `left out: ${row.reason ?? ''}` };
	if (row.end === 'trouble') return { status: 'FailedActionStatus', error: `interrupted by a trouble: ${row.troubles.map(({ trouble }) => report.troubleTitle(trouble)).join(', ')}` };
	if (row.end === 'end visit' || (row.end === 'run' && report.status === 'aborted')) return { status: 'FailedActionStatus', error: 'the visit was ended' };
	return row.end === null ? { status: null, error: null } : { status: 'CompletedActionStatus', error: null };
}

function actionOf(row: Row, report: Report, people: ReadonlyMap<string, string>, fileId: (name: string) => string, files: readonly CrateFile[]): Entity {
	const { status, error } = statusOf(row, report);
	const attached = new Set(row.attachments.map(({ seq }) => seq));
	const results = [...row.readings.map(({ seq }) => ref(readingId(seq))), ...files.filter(({ seq }) => seq !== null && attached.has(seq)).map(({ name }) => ref(fileId(name)))];
	const by = report.events[row.seq]?.event.by ?? '';
	return {
		'@id': `#step-${row.seq}`, '@type': results.length ? 'CreateAction' : 'UpdateAction', name: report.stepTitle(row.path), description: [report.stageTitle(row.stage), row.outcome === null ? '' : report.answer(row.path, row.outcome)].filter(Boolean).join(': '),
		instrument: ref('#handrail'), agent: ref(people.get(by) ?? '#person-1'), startTime: row.entered.at, ...some('endTime', row.ended?.at), ...some('actionStatus', status && `http://schema.org/${status}`), ...some('error', error),
		// a step that brought nothing else changed the journal
		result: results.length ? results : files.filter(({ type }) => type === JOURNAL_TYPE).map(({ name }) => ref(fileId(name)))
	};
}

function commentsOf(report: Report, people: ReadonlyMap<string, string>): Entity[] {
	return (report.events as readonly { event: JournalEvent }[]).flatMap(({ event }) => {
		const text = commentText(event);
		return text ? [{ '@id': `#comment-${event.seq}`, '@type': 'Comment', dateCreated: event.at, text, author: ref(people.get(event.by) ?? '#person-1') }] : [];
	});
}

function commentText({ kind, data }: JournalEvent): string {
	if (kind === 'note') return data.text;
	if (kind === 'corrected') return correction(data);
	return kind === 'late' ? `${data.step}, ${data.done}: ${data.words}` : '';
}

const correction = ({ event, field, was, is, why }: EventData['corrected']): string => `Event ${event}, ${field}: “${was}” corrected to “${is}”. ${why}`;
