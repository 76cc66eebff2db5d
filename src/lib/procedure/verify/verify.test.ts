import { describe, expect, it } from 'vitest';
import { all, danger, en, is, outcome, part, step, trouble } from '../../../../tests/fixtures/build-edition';
import { smallTroubles, smallVisit, withStep } from '../../../../tests/fixtures/small-visit';
import type { Condition, Edition, Step } from '../edition';
import { verify } from './verify';

const rules = (edition: Edition) => [...new Set(verify(edition).findings.map(({ rule }) => rule))].sort();
const change = (path: string, to: Partial<Step> | ((step: Step) => Partial<Step>)) =>
	smallVisit({ steps: withStep(path, (step) => ({ ...step, ...(typeof to === 'function' ? to(step) : to) })) });

describe('the checker', () => {
	it('proves a sound visit', () => {
		const { findings, statistics } = verify(smallVisit());
		expect(findings).toEqual([]);
		expect(statistics.states).toBeGreaterThan(20);
	});

	it('refutes a step entered with its requirement unmet, by the shortest path', () => {
		const found = verify(change('lift/go', { require: all(is('tip', 'slot1'), is('beams', 'off')) })).findings.find(({ rule }) => rule === 'requirement');
		expect(found?.at).toBe('lift/go#needs');
		expect(found?.path.map(({ title }) => title)).toEqual(['Pump the lock', 'Switch the beams on', 'Drive the stage to the slot', 'Insert the probe', 'Grip the tip', 'Withdraw the probe']);
		expect(found?.sentence).toContain('beams off, but: beams on');
	});

	it('refutes an invariant over states', () => {
		const found = verify(change('unload/go', { outcomes: [outcome('done', { stage: 'exchange', beams: 'on' }, 'unload/vent')], hazard: danger, require: is('probe', 'out') }));
		expect(found.findings.map(({ rule }) => rule)).toContain('requirement');
		expect(rules(change('unload/beams', { outcomes: [outcome('done', { lock: 'vented' }, 'unload/go')] }))).toContain('invariant');
	});

	it('refutes an invariant over a change, but for small moves', () => {
		const moved = (smallMoves: string[]) => change('pick/grip', (old) => ({ outcomes: old.outcomes.map((one) => ({ ...one, set: [...one.set, { part: 'stage', to: 'grid' }] })), smallMoves }));
		expect(verify(moved([])).findings.find(({ rule }) => rule === 'invariant')?.sentence).toContain('The stage moves only while the probe is out.');
		expect(rules(moved(['stage']))).not.toContain('invariant');
	});

	it('refutes a state from which no end can be reached', () => {
		expect(rules(change('lift/look', { outcomes: [outcome('again', {}, 'lift/look')] }))).toContain('dead end');
	});

	it('refutes a trouble without a way back', () => {
		expect(rules(change('trouble:slipped/open', { outcomes: [outcome('done', {}, 'trouble:slipped/open')] }))).toContain('no way back');
	});

	it('refutes an end whose condition does not hold', () => {
		expect(rules(smallVisit({ ends: { complete: is('slot1', 'empty'), safe: smallVisit().ends.safe } }))).toContain('end');
	});

	it('refutes an end that leaves a slot unknown, whatever the end conditions say', () => {
		const unknown = change('return/release', (old) => ({ outcomes: [...old.outcomes, outcome('not seen', { tip: 'none', slot1: 'unknown' }, 'return/withdraw')] }));
		const lax: Condition = all(is('tip', 'none'), is('probe', 'out'), is('beams', 'off'));
		expect(rules({ ...unknown, ends: { complete: lax, safe: all(lax, is('stage', 'exchange')) } })).toContain('unaccounted');
	});

	it('refutes a tip put into a slot that is not known to be empty', () => {
		const unsure = change('lift/look', { outcomes: [outcome('good', { slot1: 'unknown' }, 'return/go')] });
		const careless = Object.fromEntries(Object.entries(unsure.steps).map(([path, one]) => [path, path.startsWith('return/') ? { ...one, require: { all: [] } } : one]));
		expect(rules({ ...unsure, steps: careless })).toContain('tip');
	});

	it('refutes a tip that leaves the probe and is nowhere', () => {
		expect(rules(change('return/release', { outcomes: [outcome('done', { tip: 'none' }, 'return/withdraw')] }))).toContain('tip');
	});

	it('refutes an answer that leaves the parts as another answer says they are, but for one that calls a trouble', () => {
		const seen = (more: Partial<ReturnType<typeof outcome>>) =>
			change('return/withdraw', { kind: 'check', outcomes: [outcome('full', { probe: 'out', slot1: 'full' }, 'unload/beams'), outcome('bare', { probe: 'out' }, 'unload/beams', more)] });
		expect(verify(seen({})).findings.map(({ rule, at }) => [rule, at])).toEqual([['answer', 'return/withdraw#answer:bare']]);
		expect(rules(seen({ set: [{ part: 'probe', to: 'out' }, { part: 'slot1', to: 'empty' }] }))).toEqual([]);
		expect(rules(seen({ go: [{ to: { trouble: 'time' } }] }))).not.toContain('answer');
	});

	it('refutes a step and a trouble that no walk comes to', () => {
		const lost = smallVisit({ steps: (steps) => [...steps, step('lift/lost', [outcome('done', {}, 'lift/go')])], troubles: [...smallTroubles, trouble('never', { back: 'same' }, { while: is('slot1', 'unknown') })] });
		expect(verify(lost).findings.map(({ at }) => at)).toEqual(['lift/lost', 'trouble:never']);
	});

	it('refutes a dangerous condition that nobody confirms', () => {
		expect(verify(change('pick/insert', { hazard: { ...danger, confirm: false } })).findings.map(({ rule, at }) => [rule, at])).toEqual([['unconfirmed', 'pick/insert#hazard']]);
	});

	it('refutes a state from which the safe end cannot be planned', () => {
		const closed = smallVisit({ steps: (steps) => steps.map((one) => ({ ...one, entry: false })) });
		const trap: Step = step('lift/look', [outcome('again', {}, 'lift/look'), outcome('good', {}, 'return/go')], { require: is('stage', 'grid') });
		const found = verify({ ...closed, steps: { ...closed.steps, 'lift/look': trap } });
		expect(found.findings.map(({ rule }) => rule)).toContain('safe end');
		expect(rules(closed)).toContain('safe end');
	});

	it('follows a trouble back to every step that called it, with the parts it left', () => {
		const twice = trouble('slipped', 'trouble:slipped/open', { steps: ['pick/grip', 'lift/look'] });
		const left = smallVisit({
			steps: withStep('trouble:slipped/open', (old) => ({ ...old, outcomes: [outcome('done', { stage: 'slot' }, { back: 'same' })] })),
			troubles: [twice, ...smallTroubles.slice(1)]
		});
		const found = verify(left).findings.find(({ rule }) => rule === 'requirement');
		expect(found?.at).toBe('lift/look#needs');
		expect(found?.path.at(-1)).toMatchObject({ step: 'lift/look', then: 'trouble "slipped"' });
	});

	it('tells a path that leads through a trouble that is left again', () => {
		const dark = smallVisit({
			steps: (steps) => [
				...steps.map((one) => (one.path === 'lift/look' ? { ...one, require: all(is('stage', 'grid'), is('slot1', 'empty')) } : one)),
				step('trouble:mark/set', [outcome('done', { slot1: 'unknown' }, { back: 'same' })])
			],
			troubles: [...smallTroubles, trouble('mark', 'trouble:mark/set', { steps: ['lift/go'] })]
		});
		const found = verify(dark).findings.find(({ at }) => at === 'lift/look#needs');
		expect(found?.path.map((one) => one.step).slice(-3)).toEqual(['lift/go', 'trouble:mark/set', 'lift/go']);
	});

	it('explores nested troubles without counting them up', () => {
		const deep = smallVisit({
			steps: (steps) => [...steps, ...[1, 2, 3].map((n) => step(`trouble:t${n}/look`, [outcome('done', {}, { back: 'same' })]))],
			troubles: [...smallTroubles, ...[1, 2, 3].map((n) => trouble(`t${n}`, `trouble:t${n}/look`))]
		});
		const verdict = verify(deep);
		expect(verdict.findings).toEqual([]);
		expect(verdict.statistics.states).toBeLessThanOrEqual(verdict.statistics.valuations * Object.keys(deep.steps).length);
	});

	it('explores every option of a choice setting that is asked about', () => {
		const holder: Edition['settings'][number] = { id: 'slots', name: en('slots'), kind: 'choice', default: 'one', options: ['one', 'two'].map((id) => ({ id, name: en(id) })) };
		const only = change('pick/go', (old) => ({ require: all(old.require, { setting: 'slots', is: ['one'] }) }));
		expect(rules({ ...only, settings: [holder] })).toEqual(['requirement']);
		expect(verify({ ...only, settings: [holder] }).findings[0]?.settings).toEqual({ slots: 'two' });
	});

	it('says that nothing is proved when a limit is hit', () => {
		expect(verify(smallVisit(), { states: 5 }).findings[0]?.rule).toBe('limit');
	});

	it('says when no start is allowed', () => {
		const visit = smallVisit();
		expect(verify({ ...visit, parts: [part('probe', ['in']), ...visit.parts.slice(1)], invariants: [{ id: 'out', words: en('Out.'), always: is('probe', 'out') }] }).findings[0]?.rule).toBe('start');
	});
});
