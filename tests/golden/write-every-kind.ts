import { existsSync, writeFileSync } from 'node:fs';
import { hashedForm, lineOf } from '$lib/record/chain';
import type { JournalEvent } from '$lib/run/events';
import { benchEdition } from '../simulation/bench-edition';
import { Walk } from '../simulation/walk';
import { merkleRoot } from './merkle';

/**
 * Wrote every-kind.journal.jsonl once, by hand-chosen commands on an invented procedure. It refuses to write again: the
 * file is frozen, so that journals of this version open for ever. Run from the top of the tree, bundled by esbuild.
 */
const file = 'tests/golden/every-kind.journal.jsonl';
if (existsSync(file)) throw new Error(`${file} is frozen`);

const seen = (is: string) => ({ is, known: 'seen' as const });
const walk = Walk.begin(benchEdition(), {
	supervisor: 'Kim (invented)',
	sample: 'S-1 (invented)',
	project: 'P-1 (invented)',
	booking: { start: '2026-03-02T09:00:00.000+01:00', end: '2026-03-02T12:00:00.000+01:00' },
	left: { parts: { probe: 'out', lock: 'pumped', piece: 'whole', chosen: 'none' }, head: 'b'.repeat(64) },
	explained: { lock: 'The staff vented it.' },
	settings: { slots: 'two' }
});
walk.betweenMs = 12_345;
walk.give({ id: 'hands', are: 'clean' });
walk.give({ id: 'next' });
walk.give({ id: 'skip', reason: 'no spare today' });
walk.give({ id: 'note', text: 'Pump sounds “rough”, 3 µm/s drift; =1+1' });
walk.give({ id: 'pause', reason: 'telephone' });
walk.give({ id: 'resume' });
walk.sure({ id: 'next' });
walk.give({ id: 'hands', are: 'off' });
walk.give({ id: 'answer', outcome: 'second' });
walk.give({
	id: 'late',
	step: 'load/spare',
	done: '2026-03-02T08:55:00+01:00',
	words: 'a spare was put in before the walk'
});
walk.give({ id: 'details', supervisor: null, sample: 'S-2 (invented)' });
walk.give({ id: 'clockOffset', offsetMs: -1500 });
walk.give({ id: 'booking', end: '2026-03-02T12:30:00.000+01:00' });
walk.give({ id: 'trouble', trouble: 'lost' });
walk.give({ id: 'attachment', sha256: 'a'.repeat(64), type: 'image/jpeg', bytes: 51234, name: '02-lost-093512.jpg' });
walk.give({ id: 'trouble', trouble: 'power' });
walk.answer('back');
walk.answer('found');
walk.give({ id: 'next' });
walk.give({ id: 'back' });
walk.give({ id: 'next' });
walk.write([
	{
		kind: 'reading',
		data: {
			step: 'look/measure',
			reading: 'width',
			value: 1.5,
			unit: 'µm',
			uncertainty: null,
			raw: 'one point five',
			confirmed: false,
			round: 1
		}
	}
]);
walk.sure({ id: 'digits', value: 10.5, unit: 'µm', uncertainty: 0.2, raw: 'one zero point five' });
walk.read(5);
walk.read(9);
walk.read(3);
walk.read(5);
walk.read(4.5);
walk.give({ id: 'stop' });
walk.give({ id: 'parts', parts: { probe: seen('out'), lock: seen('pumped') }, why: 'looked' });
walk.give({ id: 'resume' });
// the one impossible event: sound by hash, told as a contradiction and left out
walk.write([{ kind: 'undone', data: { events: [1], restores: 'parts' } }]);
const last = walk.clock.now();
walk.clock.reload(180_000);
walk.give({ id: 'reopen', last, mended: ['database lost 12'] });
walk.give({ id: 'gap', seq: walk.state.seq - 1, answer: 'away' });
walk.give({ id: 'handOver', to: 'Kim (invented)' });
walk.device = 'other tablet (invented)';
walk.clock.reload(20_000);
walk.give({ id: 'takePen' });
walk.give({ id: 'message', to: 'Robin (invented)', text: 'Which slot?' });
walk.give({ id: 'correct', event: 5, field: 'text', was: 'rough', is: 'loud', why: 'misheard' });
walk.next();
walk.next();
walk.sure({ id: 'endVisit', why: 'time' });
walk.give({ id: 'back' });
walk.give({ id: 'parts', parts: { probe: seen('in') }, why: 'looked' });
walk.give({ id: 'resume' });
walk.next();
walk.give({ id: 'skip', stage: 'thin', reason: 'no time' });
walk.next();
// an unknown kind of a later version: kept, and shown as not understood
walk.write([{ kind: 'weather', data: { outside: 'rain' } } as never]);
// `aborted` cannot follow `completed`: the second contradiction, there so that every kind stands in one file
walk.write([{ kind: 'aborted', data: { why: 'written by mistake' } }]);
const events: readonly JournalEvent[] = walk.events;
walk.write([
	{
		kind: 'closed',
		data: {
			head: events[events.length - 1]?.hash ?? '',
			count: events.length,
			root: merkleRoot(events.map(hashedForm)),
			signature: null
		}
	}
]);
writeFileSync(file, events.map((event) => `${lineOf(event)}\n`).join(''));
process.stdout.write(
	`${events.length} events, ${walk.state.status}, ${walk.state.contradictions?.count ?? 0} contradictions\n${walk.kinds().join(' ')}\n`
);
