import type { Edition, Step, Trouble } from '$lib/procedure/edition';
import { all, any, danger, edition, en, is, not, outcome, part, step, trouble } from '../fixtures/build-edition';

const SLOTS = ['1', '2', '3', '4', '5', '6'];

/**
 * A generated visit of `rounds` rounds; each takes a tip of any full slot, uses it, returns it and counts. Steps, parts
 * met and reachable states all grow in proportion to the rounds; nothing in it is real.
 */
export function generatedVisit(rounds: number): Edition {
	const numbers = Array.from({ length: rounds }, (_, at) => at + 1);
	return edition({
		id: `generated-${rounds}`,
		list: [...numbers.flatMap((round) => roundSteps(round, rounds)), ...unload(rounds), ...numbers.flatMap(troubleSteps)],
		parts: [
			part('probe', ['out', 'in'], { dangerous: ['in'] }),
			part('stage', ['exchange', ...SLOTS.map((n) => `at-slot-${n}`), 'grid']),
			part('tip', ['none', ...SLOTS.map((n) => `slot-${n}`)]),
			...SLOTS.map((n) => part(`slot-${n}`, ['full', 'empty', 'unknown'], { start: ['full', 'empty'] })),
			part('beams', ['on', 'off'], { start: ['on'] }),
			part('round', ['0', ...numbers.map(String)], { start: ['0'] })
		],
		invariants: [
			...SLOTS.map((n) => ({ id: `one-place-${n}`, words: en('A tip is in one place.'), always: not(all(is('tip', `slot-${n}`), is(`slot-${n}`, 'full'))) })),
			{ id: 'still', words: en('The stage moves only while the probe is out.'), changes: 'stage', onlyWhile: is('probe', 'out') }
		],
		troubles: [
			...numbers.map((round): Trouble => trouble(`drift-${round}`, `trouble:drift-${round}/look`, { stages: [`round-${round}`], while: is('beams', 'on') })),
			trouble('time', { end: 'safe' }, { stopFirst: false })
		],
		ends: { complete: all(is('tip', 'none'), is('beams', 'off'), is('probe', 'out')), safe: all(is('tip', 'none'), is('beams', 'off'), is('probe', 'out'), is('stage', 'exchange')) },
		first: 'round-1/choose'
	});
}

function roundSteps(round: number, rounds: number): Step[] {
	const at = (name: string) => `round-${round}/${name}`;
	const now = is('round', String(round - 1));
	const slot = any(...SLOTS.map((n) => all(is('stage', `at-slot-${n}`), is(`slot-${n}`, 'full'))));
	const own = any(...SLOTS.map((n) => all(is('stage', `at-slot-${n}`), is(`slot-${n}`, 'empty'), is('tip', `slot-${n}`))));
	const next = round === rounds ? 'unload/beams' : `round-${round + 1}/choose`;
	return [
		step(at('choose'), [
			...SLOTS.map((n) => outcome(`slot ${n}`, { stage: `at-slot-${n}` }, at('insert'), { offered: is(`slot-${n}`, 'full') })),
			outcome('none', {}, 'unload/beams')
		], { kind: 'choose', require: all(now, is('probe', 'out'), is('tip', 'none')) }),
		step(at('insert'), [outcome('done', { probe: 'in' }, at('grip-1'))], { require: all(now, slot, is('probe', 'out')), hazard: danger }),
		...SLOTS.map((n) =>
			step(at(`grip-${n}`), [
				outcome('gripped', { tip: `slot-${n}`, [`slot-${n}`]: 'empty' }, at('withdraw')),
				outcome('slipped', {}, at('insert-again'))
			], { kind: 'do', require: all(now, is('probe', 'in'), is('stage', `at-slot-${n}`), is(`slot-${n}`, 'full')) })
		),
		step(at('insert-again'), [outcome('done', { probe: 'out' }, at('insert'))], { require: all(now, is('probe', 'in')), entry: true }),
		step(at('withdraw'), [outcome('done', { probe: 'out' }, at('to-grid'))], { require: all(now, is('probe', 'in'), not(is('tip', 'none'))), entry: true }),
		step(at('to-grid'), [outcome('done', { stage: 'grid' }, at('use'))], { require: all(now, is('probe', 'out'), not(is('tip', 'none'))) }),
		step(at('use'), [outcome('good', {}, at('back-1')), outcome('again', {}, at('use'))], { require: all(now, is('stage', 'grid')) }),
		...SLOTS.map((n) => step(at(`back-${n}`), [outcome('done', { stage: `at-slot-${n}` }, at('return'))], { require: all(now, is('probe', 'out'), is('tip', `slot-${n}`)), entry: true })),
		step(at('return'), [outcome('done', { probe: 'in' }, at('release-1'))], { require: all(now, own, is('probe', 'out')), hazard: danger }),
		...SLOTS.map((n) => step(at(`release-${n}`), [outcome('done', { tip: 'none', [`slot-${n}`]: 'full' }, at('count'))], { require: all(now, is('probe', 'in'), is('tip', `slot-${n}`), is(`slot-${n}`, 'empty')), entry: true })),
		step(at('count'), [outcome('done', { probe: 'out', round: String(round) }, next)], { require: all(now, is('probe', 'in'), is('tip', 'none')), entry: true })
	].map(routed(at));
}

/** Ways to the first of the steps that stand for slots lead to the one whose tip or place it is. */
function routed(at: (name: string) => string): (one: Step) => Step {
	const choose = (name: string, ask: (n: string) => ReturnType<typeof is>) => SLOTS.map((n, i) => ({ ...(i < SLOTS.length - 1 ? { when: ask(n) } : {}), to: { step: at(`${name}-${n}`) } }));
	const ways: Readonly<Record<string, ReturnType<typeof choose>>> = {
		[at('grip-1')]: choose('grip', (n) => is('stage', `at-slot-${n}`)),
		[at('back-1')]: choose('back', (n) => is('tip', `slot-${n}`)),
		[at('release-1')]: choose('release', (n) => is('tip', `slot-${n}`))
	};
	return (one) => ({
		...one,
		outcomes: one.outcomes.map((way) => ({ ...way, go: way.go.flatMap((route) => ('step' in route.to ? (ways[route.to.step] ?? [route]) : [route])) }))
	});
}

function unload(rounds: number): Step[] {
	const counted = Array.from({ length: rounds + 1 }, (_, n) => String(n));
	return [
		step('unload/beams', [outcome('done', { beams: 'off' }, 'unload/go')], { require: all(is('probe', 'out'), is('tip', 'none'), is('round', ...counted)), entry: true }),
		step('unload/go', [outcome('done', { stage: 'exchange' }, { end: 'complete' })], { require: all(is('probe', 'out'), is('beams', 'off')) })
	];
}

function troubleSteps(round: number): Step[] {
	const at = (name: string) => `trouble:drift-${round}/${name}`;
	return [
		step(at('look'), [outcome('as before', {}, { back: 'same' }), outcome('drifted', {}, at('shift'))]),
		step(at('shift'), [outcome('done', {}, { back: 'same' }), outcome('lost', {}, { end: 'safe' })])
	];
}
