import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { compileProcedure, editionHash } from './compile';
import type { Edition } from './edition';
import { faultLine } from './fault';

const language = readFileSync(new URL('../../../tests/behaviour/procedure-language.md', import.meta.url), 'utf8');
const example = (/```yaml\n([\s\S]*?)```/.exec(language)?.[1] ?? '').replace(/^include:.*\n/m, '');

function edition(text: string, include?: (name: string) => string | undefined): Edition {
	const made = compileProcedure(text, 'test.yaml', include);
	if ('faults' in made) throw new Error(made.faults.map(faultLine).join('\n'));
	return made.edition;
}

/** A procedure around some steps. */
const around = (steps: string, more = ''): string => `procedure: small
version: 1.0.0
title: Small
summary: Small.
parts:
  probe: { conditions: [out, in, unknown], unknown: unknown }
  slot-1: { conditions: [absent, empty, { id: holds, name: holds its tip }] }
  grid: { conditions: [not loaded, loaded] }
settings:
  holder: { options: [two slots, four slots], default: four slots }
stages:
  - stage: Work
    plan: 10 min
    steps:
${steps.replace(/^/gm, '      ')}
${more}
ends: { complete: always, safe: always }
`;
const step = (made: Edition, path: string) => made.steps[path] ?? expect.fail(`no step ${path}; there are ${Object.keys(made.steps).join(', ')}`);

describe('the example of the language reference', () => {
	const made = edition(example);
	it('L2, L3. makes paths from ids and short wordings', () => {
		expect(Object.keys(made.steps)).toEqual([
			'pick-up/stage-to-slot',
			'pick-up/centre-the-taper-with-stage-z',
			'pick-up/is-the-taper-centred-in-the-ion-view',
			'pick-up/insert-the-probe',
			'pick-up/retract-the-probe',
			'trouble:not-found/does-the-taper-show-at-low-magnification'
		]);
		expect(made.first).toBe('pick-up/stage-to-slot');
	});
	it('keeps a plain step plain: one outcome that leads to the next step', () => {
		expect(step(made, 'pick-up/stage-to-slot')).toMatchObject({
			kind: 'do',
			words: { en: { full: 'Move the stage to the slot.', short: 'Stage to slot', spoken: 'Move the stage to the slot.', look: '' } },
			require: { part: 'probe', is: ['out'] },
			outcomes: [{ id: 'done', set: [{ part: 'stage', to: 'at-the-slot' }], go: [{ to: { step: 'pick-up/centre-the-taper-with-stage-z' } }] }],
			entry: true,
			final: false,
			hands: 'any'
		});
	});
	it('resolves answers, repeats, troubles, ways back and ends', () => {
		expect(step(made, 'pick-up/is-the-taper-centred-in-the-ion-view').outcomes.map(({ id, go }) => [id, go])).toEqual([
			['centred', [{ to: { step: 'pick-up/insert-the-probe' } }]],
			['off-centre', [{ to: { step: 'pick-up/centre-the-taper-with-stage-z' } }]]
		]);
		expect(step(made, 'pick-up/centre-the-taper-with-stage-z').outcomes.map(({ when, go }) => [when, go[0]?.to])).toEqual([
			['within', { step: 'pick-up/is-the-taper-centred-in-the-ion-view' }],
			['beyond', { trouble: 'not-found' }]
		]);
		expect(step(made, 'trouble:not-found/does-the-taper-show-at-low-magnification').outcomes.map(({ go }) => go[0]?.to)).toEqual([{ back: 'pick-up/stage-to-slot' }, { end: 'safe' }]);
		expect(step(made, 'pick-up/retract-the-probe').outcomes[0]?.go).toEqual([{ to: { end: 'complete' } }]);
	});
	it('writes "if … then …" as "not … or …"', () => {
		expect(made.invariants[1]).toEqual({
			id: 'clear-path',
			words: { en: 'The probe is in only at the slot.' },
			always: { any: [{ not: { part: 'probe', is: ['in'] } }, { part: 'stage', is: ['at-the-slot'] }] }
		});
	});
	it('is plain JSON with a hash that any change of it changes', () => {
		expect(JSON.parse(JSON.stringify(made))).toEqual(made);
		expect(editionHash(made)).toMatch(/^[0-9a-f]{64}$/);
		expect(editionHash({ ...made, version: '1.0.1' })).not.toBe(editionHash(made));
	});
	it('does not depend on spacing, comments or the order of keys', () => {
		const other = example.replace(/^version: .*\ntitle: (.*)\n/m, '# a comment\ntitle:   "$1"\n\nversion: 1.0.0\n');
		expect(editionHash(edition(other))).toBe(editionHash(made));
	});
});

describe('conditions', () => {
	const read = (needs: string) => step(edition(around(`- do: Look.\n  needs: ${needs}`)), 'work/look').require;
	it.each([
		['probe out, slot 1 empty', { all: [{ part: 'probe', is: ['out'] }, { part: 'slot-1', is: ['empty'] }] }],
		['probe out or unknown', { any: [{ part: 'probe', is: ['out'] }, { part: 'probe', is: ['unknown'] }] }],
		['probe out / unknown', { part: 'probe', is: ['out', 'unknown'] }],
		['not probe in', { not: { part: 'probe', is: ['in'] } }],
		['probe is not in', { not: { part: 'probe', is: ['in'] } }],
		['grid not loaded', { part: 'grid', is: ['not-loaded'] }],
		['grid not not loaded', { not: { part: 'grid', is: ['not-loaded'] } }],
		['Slot 1 holds its tip', { part: 'slot-1', is: ['holds'] }],
		['slot-1 holds', { part: 'slot-1', is: ['holds'] }],
		['holder two slots', { setting: 'holder', is: ['two-slots'] }],
		['always', { all: [] }],
		['[probe out, {any: [probe in, {not: slot 1 empty}]}]', { all: [{ part: 'probe', is: ['out'] }, { any: [{ part: 'probe', is: ['in'] }, { not: { part: 'slot-1', is: ['empty'] } }] }] }],
		['probe out or probe in and slot 1 empty', { any: [{ part: 'probe', is: ['out'] }, { all: [{ part: 'probe', is: ['in'] }, { part: 'slot-1', is: ['empty'] }] }] }]
	])('L4. "%s"', (needs, expected) => expect(read(needs)).toEqual(expected));
});

describe('flow', () => {
	it('L6. takes the first route whose condition holds, the plain one last', () => {
		const made = edition(around('- do: Look.\n  then:\n    - { if: probe in, go: go to "Third" }\n    - next\n- do: Second.\n- do: Third.'));
		expect(step(made, 'work/look').outcomes[0]?.go).toEqual([{ when: { part: 'probe', is: ['in'] }, to: { step: 'work/third' } }, { to: { step: 'work/second' } }]);
	});
	it('L8. passes by a step whose "only if" does not hold, wherever one comes from', () => {
		const made = edition(around('- do: First.\n- do: Second.\n  only if: probe in\n- do: Third.\n  then: repeat "Second"'));
		const gated = [{ when: { part: 'probe', is: ['in'] }, to: { step: 'work/second' } }, { to: { step: 'work/third' } }];
		expect(step(made, 'work/first').outcomes[0]?.go).toEqual(gated);
		expect(step(made, 'work/third').outcomes[0]?.go).toEqual(gated);
	});
	it('L8. passes by a whole fragment, and a step in it for its own reason', () => {
		const fragments = 'fragments:\n  pair:\n    steps:\n      - do: One.\n        only if: slot 1 empty\n      - do: Two.';
		const made = edition(around('- do: First.\n- { use: pair, only if: probe in }\n- do: Last.', fragments));
		const inside = { part: 'probe', is: ['in'] };
		expect(step(made, 'work/first').outcomes[0]?.go).toEqual([
			{ when: { all: [inside, { part: 'slot-1', is: ['empty'] }] }, to: { step: 'work/pair/one' } },
			{ when: { not: inside }, to: { step: 'work/last' } },
			{ to: { step: 'work/pair/two' } }
		]);
	});
	it('L11. unfolds a fragment several times with its values in every text, and "leave" goes behind it', () => {
		const fragments = 'fragments:\n  look-at:\n    with: [n]\n    steps:\n      - check: Look at slot <n>.\n        id: look\n        answers:\n          slot <n> is empty: leave\n          dirty: next\n      - do: Clean slot <n>.\n        id: clean\n        then: repeat "look"';
		const made = edition(around('- { use: look-at, with: { n: 1 } }\n- { use: look-at, id: again, with: { n: 1 } }\n- do: Last.', fragments));
		expect(Object.keys(made.steps)).toEqual(['work/look-at-1/look', 'work/look-at-1/clean', 'work/again/look', 'work/again/clean', 'work/last']);
		expect(step(made, 'work/look-at-1/look').words.en?.full).toBe('Look at slot 1.');
		expect(step(made, 'work/again/look').outcomes.map(({ id, go }) => [id, go[0]?.to])).toEqual([
			['slot-1-is-empty', { step: 'work/last' }],
			['dirty', { step: 'work/again/clean' }]
		]);
		expect(step(made, 'work/look-at-1/clean').outcomes[0]?.go[0]?.to).toEqual({ step: 'work/look-at-1/look' });
		expect(step(made, 'work/again/clean').outcomes[0]?.go[0]?.to).toEqual({ step: 'work/again/look' });
	});
	it('L5. lets answers inherit and overrule what the step sets', () => {
		const made = edition(around('- check: Look.\n  sets: probe out, slot 1 empty\n  answers: { as said: next, still in: { sets: probe in } }'));
		expect(step(made, 'work/look').outcomes.map(({ set }) => set)).toEqual([
			[{ part: 'probe', to: 'out' }, { part: 'slot-1', to: 'empty' }],
			[{ part: 'slot-1', to: 'empty' }, { part: 'probe', to: 'in' }]
		]);
	});
	it('shares what the stage plan leaves among the steps without a plan', () => {
		const made = edition(around('- do: First.\n  plan: 4 min\n- do: Second.\n- wait: Wait.\n  for: 2 min'));
		expect(Object.values(made.steps).map(({ plannedMs }) => plannedMs)).toEqual([240_000, 240_000, 120_000]);
		expect(made.stages[0]?.plannedMs).toBe(600_000);
	});
	it('reads included libraries, their own includes too', () => {
		const files: Record<string, string> = {
			'a.yaml': 'library: a\ninclude: [b.yaml]\nparts: { beams: { conditions: ["on", "off"] } }',
			'b.yaml': 'library: b\nparts: { lock: { conditions: [vented, pumped] } }'
		};
		const made = edition(around('- do: Look.\n  needs: beams off, lock pumped').replace('parts:', 'include: [a.yaml]\nparts:'), (name) => files[name]);
		expect(made.parts.map(({ id }) => id)).toEqual(['probe', 'slot-1', 'grid', 'beams', 'lock']);
	});
	it('L13. keeps wordings in several languages', () => {
		const made = edition(around('- do: Look.\n  words: { de: { full: "Schau hin.", short: Hinsehen } }').replace('title: Small', 'languages: [en, de]\ntitle: { en: Small, de: Klein }'));
		expect(made.title).toEqual({ en: 'Small', de: 'Klein' });
		expect(step(made, 'work/look').words.de).toEqual({ full: 'Schau hin.', short: 'Hinsehen', spoken: 'Schau hin.', look: '' });
	});
});
