import type { Edition } from '$lib/procedure/edition';
import { durationText } from '$lib/record/durations-text';
import type { ReadJournal } from '$lib/record/read-journal';
import { movesTold, type RoundTold } from '$lib/run/moves-told';
import { type AnsweredGap, gapsOf, type Row, rowsOf } from '$lib/run/rows';
import type { Contradiction, RunState } from '$lib/run/state';
import { timeByStage, type Timeline, timelineOf } from '$lib/run/timeline';
import type { Totals } from '$lib/run/totals';
import { named } from '$lib/session/named';
import { toldText } from '$lib/session/telling';
import { BadUse, type Command, type ExitCode, type Io } from './command';
import { readJournalFile } from './read-file';

export const replay: Command = {
	purpose: 'state, parts and times of a journal; where its chain breaks',
	usage: [
		'usage: handrail replay JOURNAL [--json]',
		'',
		'Verifies the chain, folds the sound events and prints where the run stands, what is true of the parts, and times by',
		'stage and step. Only what both clocks agree on is a time; the rest is listed as not measured.',
		'Exit: 0 sound, 1 the chain breaks or an event contradicts the ones before it (the sound prefix is printed), 2 bad use.'
	].join('\n'),
	async run(args, io): Promise<ExitCode> {
		const json = args.includes('--json');
		const [path, ...more] = args.filter((arg) => arg !== '--json');
		const option = args.find((arg) => arg.startsWith('-') && arg !== '--json');
		if (option !== undefined) throw new BadUse(`"${option}" is not understood; expected --json`);
		if (path === undefined) throw new BadUse('no journal named; expected a .journal.jsonl file');
		if (more.length > 0) throw new BadUse(`one journal at a time; got ${[path, ...more].join(' and ')}`);
		const journal = await readJournalFile(path);
		const timeline = timelineOf(journal.events);
		if (json) io.out(`${JSON.stringify(asJson(journal, timeline))}\n`);
		else if (journal.events.length > 0) print(timeline, movesTold(journal.events), io);
		const { fault } = journal;
		if (fault)
			io.err(
				`${path}: the chain breaks at event ${fault.seq}, line ${fault.line}: ${fault.reason}; ${fault.seq} sound events stand before it\n`
			);
		for (const one of contradictions(timeline.state))
			io.err(
				`${path}: event ${one.seq} ("${one.kind}") contradicts the ones before it and is left out: ${one.key} ${JSON.stringify(one.params)}\n`
			);
		return fault || timeline.state.contradictions ? 1 : 0;
	}
};

/** Oldest first. */
function contradictions(state: RunState): Omit<Contradiction, 'next' | 'count'>[] {
	const list: Omit<Contradiction, 'next' | 'count'>[] = [];
	for (let at = state.contradictions; at; at = at.next)
		list.unshift({ seq: at.seq, kind: at.kind, key: at.key, params: at.params });
	return list;
}

/** Everything `replay` knows, for machines: milliseconds, ids of the edition, stamps as in the journal. */
function asJson({ events, fault }: ReadJournal, timeline: Timeline): object {
	const { state } = timeline;
	return {
		run: state.run,
		edition: { id: state.edition.id, version: state.edition.version, hash: state.editionHash },
		events: events.length,
		fault,
		contradictions: contradictions(state),
		notUnderstood: state.foreign,
		status: state.status,
		step: state.step,
		due: state.due,
		held: state.held,
		ending: state.ending,
		parts: Object.fromEntries(
			Object.entries(state.parts).map(([part, is]) => [part, { is, known: state.known[part] }])
		),
		time: timeline.run,
		stages: timeByStage(timeline),
		steps: rowsOf(timeline).map(({ seq, path, stage, trouble, visit, entered, ended, end, outcome, undone, time }) => ({
			seq,
			path,
			stage,
			trouble,
			visit,
			entered: entered.at,
			ended: ended?.at ?? null,
			end,
			outcome,
			undone,
			...time
		})),
		gaps: gapsOf(timeline),
		instrument: state.instrument,
		moves: movesTold(events).map(({ told, ...round }) => ({ ...round, told: told.map((each) => ({ ...each, text: toldText(each, named(state.edition, 'en'), round.step) })) }))
	};
}

function print(timeline: Timeline, moves: readonly RoundTold[], io: Io): void {
	const { state } = timeline;
	const { edition } = state;
	const say = (line = '') => io.out(`${line}\n`);
	say(
		`${text(edition, edition.title)} ${edition.version}, by ${state.person}${state.supervisor === null ? '' : `, under ${state.supervisor}`}`
	);
	say(
		`${state.status}${state.held ? ` (${state.held.why}: ${state.held.about})` : ''}, event ${state.seq}, at ${state.step || 'no step'}: ${title(edition, state.step)}`
	);
	for (const [kind, count] of Object.entries(state.foreign))
		say(`${count} × "${kind}": not understood by this version`);
	say();
	say('Parts');
	for (const part of edition.parts)
		say(
			`  ${text(edition, part.name)}: ${condition(edition, part.id, state)} (${state.known[part.id] ?? 'not known'})`
		);
	say();
	say(`Times: ${timeText(timeline.run)}`);
	const byStage = timeByStage(timeline);
	for (const stage of edition.stages) {
		const totals = byStage[stage.id];
		say(
			`  ${text(edition, stage.title)}: ${totals ? timeText(totals) : 'not begun'}; planned ${durationText(stage.plannedMs)}`
		);
	}
	say();
	say('Steps');
	for (const row of rowsOf(timeline)) say(`  ${rowText(edition, row)}`);
	const gaps = gapsOf(timeline);
	if (gaps.length > 0) say('\nNot measured');
	for (const gap of gaps) say(`  ${gapText(gap)}`);
	if (moves.length > 0) say('\nMoves, reckoned again from this journal');
	if (moves.some(({ instrumentKnown }) => !instrumentKnown)) say('  (some without signs and limits: the journal does not say what was known of the instrument)');
	for (const { seq, step, round, told } of moves)
		say(`  event ${seq}, ${title(edition, step)}, round ${round}: ${told.map((each) => toldText(each, named(edition, 'en'), step)).join(' ')}`);
}

const text = (edition: Edition, words: Readonly<Record<string, string>>): string =>
	words[edition.languages[0] ?? 'en'] ?? '';
const title = (edition: Edition, path: string): string =>
	edition.steps[path]?.words[edition.languages[0] ?? 'en']?.short ?? path;

function condition(edition: Edition, id: string, state: RunState): string {
	const part = edition.parts.find((one) => one.id === id);
	const is = state.parts[id];
	const known = part?.conditions.find((one) => one.id === is);
	return known ? text(edition, known.name) : (is ?? 'not known');
}

function timeText({ elapsedMs, pausedMs, heldMs, gaps, gapWallMs }: Totals): string {
	const extra = [
		...(pausedMs > 0 ? [`paused ${durationText(pausedMs)}`] : []),
		...(heldMs > 0 ? [`held ${durationText(heldMs)}`] : []),
		...(gaps > 0
			? [
					`${gaps} × not measured, ${durationText(Math.abs(gapWallMs))} by the wall clock${gapWallMs < 0 ? ' backwards' : ''}`
				]
			: [])
	];
	return [durationText(elapsedMs), ...extra].join(', ');
}

function rowText(edition: Edition, row: Row): string {
	const end = row.outcome ?? row.end ?? 'stands';
	const where = row.trouble === null ? '' : ` [trouble ${row.trouble}]`;
	return `${row.entered.at} ${title(edition, row.path)}${row.visit > 1 ? ` (${row.visit})` : ''}${where}: ${end}, ${timeText(row.time)}${row.undone ? ', taken back' : ''}`;
}

function gapText({ fromSeq, toSeq, wallMs, monoMs, reason, answer }: AnsweredGap): string {
	const mono = monoMs === null ? '' : `, ${durationText(Math.max(0, monoMs))} by the monotonic clock`;
	return `events ${fromSeq} to ${toSeq}: ${wallMs < 0 ? '−' : ''}${durationText(Math.abs(wallMs))} by the wall clock${mono} (${reason}); ${answer ?? 'not answered'}`;
}
