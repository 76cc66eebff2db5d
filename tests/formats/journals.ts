import { readFileSync } from 'node:fs';
import { lineOf } from '$lib/record/chain';
import { journalText } from '$lib/record/journal-text';
import { readJournal, type ReadJournal } from '$lib/record/read-journal';
import { benchEdition } from '../simulation/bench-edition';
import { smallVisit } from '../fixtures/small-visit';
import { Walk } from '../simulation/walk';

/** Journals that every format is tried with; all invented. */
export const textOf = (walk: Walk): string => walk.events.map((event) => lineOf(event) + '\n').join('');
export const journalOf = (walk: Walk): ReadJournal => readJournal(textOf(walk));

const minute = 60_000;
/** Words that would break a careless writer of any format. */
export const hostile = `=1+1 | *drift*, "slow"; <b>&amp;</b> ]]> '''\\" \${x} {{y}} {% z %}\nsecond line, µm 😀 漢字\u0007\u2028`;

/** Pause, hold, trouble, a step taken back, readings in rounds, notes, a correction and a file, in hostile words. */
export function eventful(): Walk {
	const walk = Walk.begin(benchEdition(), { sample: '=cmd|"x"', project: hostile, booking: { end: '2026-03-02T11:00:00.000+01:00' } });
	walk.give({ id: 'next' });
	walk.clock.pass(3 * minute);
	walk.give({ id: 'next' });
	walk.give({ id: 'note', text: hostile });
	walk.give({ id: 'attachment', sha256: 'a'.repeat(64), type: 'image/jpeg', bytes: 9, name: 'x.jpg' });
	walk.give({ id: 'pause' });
	walk.clock.pass(9 * minute);
	walk.give({ id: 'resume' });
	walk.give({ id: 'next' });
	walk.give({ id: 'answer', outcome: 'first' });
	walk.give({ id: 'trouble', trouble: 'power' });
	walk.answer('back');
	walk.give({ id: 'next' });
	walk.give({ id: 'back' });
	walk.give({ id: 'next' });
	walk.read(10);
	walk.give({ id: 'correct', event: 3, field: 'text', was: 'a', is: hostile, why: 'misheard' });
	return walk;
}

/** As a browser's clock counts: fractions of a millisecond. */
export function fractions(): Walk {
	const walk = Walk.begin(smallVisit());
	walk.next();
	walk.clock.pass(50_852.87960126332);
	walk.next();
	return walk;
}

/** Ended early by the safe end, with a stage left out before. */
export function endedEarly(): Walk {
	const walk = Walk.begin(smallVisit());
	for (let i = 0; i < 4; i++) walk.next();
	walk.sure({ id: 'endVisit', why: 'time' });
	for (let i = 0; i < 20 && walk.state.status === 'running'; i++) walk.next();
	return walk;
}

export function complete(): Walk {
	const walk = Walk.begin(smallVisit());
	for (let i = 0; i < 40 && walk.state.status === 'running'; i++) walk.next();
	return walk;
}

/** Stands before the last stage: the one before it, of two steps, was left out. */
export function stageLeftOut(): Walk {
	const edition = benchEdition();
	const walk = Walk.begin({
		...edition,
		steps: { ...edition.steps, 'thin/polish': { ...edition.steps['thin/thin']!, path: 'thin/polish' } },
		stages: edition.stages.map((stage) => (stage.id === 'thin' ? { ...stage, steps: [...stage.steps, 'thin/polish'] } : stage))
	}, { at: 'thin/thin', stated: { probe: { is: 'out', known: 'seen' }, lock: { is: 'pumped', known: 'seen' } } });
	walk.give({ id: 'skip', stage: 'thin', reason: 'no time' });
	return walk;
}

export const everyKind = (): ReadJournal => readJournal(journalText(readFileSync(new URL('../golden/every-kind.journal.jsonl', import.meta.url))));

export const journals = (): readonly (readonly [string, ReadJournal])[] => [
	['every kind', everyKind()],
	['eventful', journalOf(eventful())],
	['ended early', journalOf(endedEarly())],
	['complete', journalOf(complete())],
	['fractions of a millisecond', journalOf(fractions())],
	['just begun', readJournal(textOf(complete()).split('\n')[0] + '\n')],
	['broken', readJournal(textOf(complete()).split('\n').slice(0, 9).join('\n'))]
];
