import type { Edition, ReadingSpec, Step } from '$lib/procedure/edition';
import { all, any, danger, edition, en, is, outcome, part, step, trouble } from '../fixtures/build-edition';

/** An invented procedure with every kind of step, small enough to read: for tests of the run. */

const reading = (id: string, more: Partial<ReadingSpec> = {}): ReadingSpec => ({
	id,
	name: en(id),
	unit: 'µm',
	min: 0,
	max: 100,
	plausible: [0, 20],
	decimals: 1,
	...more
});

const steps: readonly Step[] = [
	step('load/glove', [outcome('done', {}, 'load/spare')], { hands: 'clean' }),
	step('load/spare', [outcome('done', {}, 'load/pump')], {
		optional: { ifLeftOut: is('probe', 'out'), leadsTo: { step: 'load/pump' } }
	}),
	step('load/pump', [outcome('done', { lock: 'pumped' }, 'look/choose')], { kind: 'wait', wait: { forMs: 120_000 } }),
	step(
		'look/choose',
		[
			outcome('first', { chosen: 'one' }, 'look/seen'),
			outcome('second', { chosen: 'two' }, 'look/seen', { offered: { setting: 'slots', is: ['two'] } })
		],
		{ kind: 'choose' }
	),
	step('look/seen', [outcome('seen', {}, 'look/measure'), outcome('not seen', {}, { trouble: 'lost' })]),
	step(
		'look/measure',
		[outcome('in', {}, 'look/centre', { when: 'in range' }), outcome('out', {}, 'look/seen', { when: 'out of range' })],
		{
			kind: 'reading',
			readings: [reading('width', { judged: { target: 10, tolerance: 2 } }), reading('height')]
		}
	),
	step(
		'look/centre',
		[
			outcome('within', {}, 'cut/insert', { when: 'within' }),
			outcome('beyond', {}, { trouble: 'lost' }, { when: 'beyond' }),
			outcome('cannot tell', {}, 'look/seen')
		],
		{
			kind: 'adjust',
			readings: [reading('gap left'), reading('gap right')],
			adjust: { move: 'half-difference', from: { gapLeft: 'gap left', gapRight: 'gap right' }, tolerance: 1, rounds: 3 }
		}
	),
	step('cut/insert', [outcome('done', { probe: 'in' }, 'cut/cut')], {
		hazard: danger,
		require: all(is('probe', 'out'), is('lock', 'pumped'))
	}),
	step('cut/cut', [outcome('done', { piece: 'free' }, 'cut/withdraw')], { final: true, require: is('probe', 'in') }),
	step('cut/withdraw', [outcome('done', { probe: 'out' }, 'thin/thin')], { require: is('probe', 'in'), entry: true }),
	step('thin/thin', [outcome('done', {}, 'unload/vent')], { require: is('probe', 'out') }),
	step('unload/vent', [outcome('done', { lock: 'vented' }, { end: 'complete' })], {
		require: is('probe', 'out'),
		entry: true
	}),
	step('trouble:lost/search', [
		outcome('found', {}, { back: 'look/seen' }),
		outcome('deeper', {}, 'trouble:lost/more'),
		outcome('gone', {}, { end: 'safe' })
	]),
	step('trouble:lost/more', [outcome('done', {}, { back: 'same' })]),
	step('trouble:jammed/free', [outcome('done', { probe: 'out' }, { back: 'same' })], { require: is('probe', 'in') }),
	step('trouble:power/look', [outcome('back', {}, { back: 'same' })])
];

export function benchEdition(change: Partial<Omit<Edition, 'steps'>> = {}): Edition {
	const made = edition({
		list: steps,
		parts: [
			part('probe', ['out', 'in', 'unknown'], { dangerous: ['in'] }),
			part('lock', ['vented', 'pumped']),
			part('piece', ['whole', 'free']),
			part('chosen', ['none', 'one', 'two'])
		],
		settings: [
			{
				id: 'slots',
				name: en('Slots'),
				kind: 'choice',
				options: ['one', 'two'].map((id) => ({ id, name: en(id) })),
				default: 'one'
			}
		],
		invariants: [
			{
				id: 'vent',
				words: en('The lock is not vented with the probe in.'),
				always: any(is('lock', 'pumped'), is('probe', 'out', 'unknown'))
			},
			{
				id: 'lock',
				words: en('The lock changes only while the probe is out.'),
				changes: 'lock',
				onlyWhile: is('probe', 'out')
			}
		],
		troubles: [
			trouble('lost', 'trouble:lost/search', { stages: ['look'] }),
			trouble('jammed', 'trouble:jammed/free', { while: is('probe', 'in') }),
			trouble('power', 'trouble:power/look'),
			trouble('time', { end: 'safe' }, { stopFirst: false })
		],
		ends: {
			complete: all(is('probe', 'out'), is('lock', 'vented')),
			safe: all(is('probe', 'out'), is('lock', 'vented'))
		},
		first: 'load/glove',
		...change
	});
	return {
		...made,
		stages: made.stages.map((stage) =>
			stage.id === 'thin'
				? { ...stage, optional: { ifLeftOut: is('probe', 'out'), leadsTo: { step: 'unload/vent' } } }
				: stage
		)
	};
}
