import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { compileProcedure } from './compile';
import type { Edition } from './edition';
import { type Scenario, scenarioFaults } from './scenario';

const read = (name: string) => readFileSync(new URL(`../../../procedures/${name}`, import.meta.url), 'utf8');
const editions = new Map<string, Edition>();
for (const id of ['lift-out-visit', 'exchange-tip', 'bench-loading']) {
	const made = compileProcedure(read(`${id}.yaml`), `${id}.yaml`, read);
	if ('edition' in made) editions.set(id, made.edition);
}
const scenario = JSON.parse(read('demo/scenario.json')) as Scenario;

it('fits the procedures that ship', () => expect(scenarioFaults(scenario, editions)).toEqual([]));

it('is marked as invented, and so are its instrument, projects and samples', () => {
	expect(scenario.invented).toBe(true);
	for (const words of [scenario.instrument.name, ...scenario.projects.map((p) => p.title), ...scenario.samples.map((s) => s.title)]) expect(words).toContain('(invented)');
});

it.each([
	['a part that is not there', { parts: { needle: 'in' } }, 'visit 1: there is no part needle'],
	['a condition that no visit begins with', { parts: { 'slot-1': 'absent' } }, 'visit 1: slot-1 cannot begin as absent'],
	['parts that break an invariant', { parts: { tip: 'of-slot-1', 'slot-1': 'holds' } }, 'visit 1: the parts break own-slot-1'],
	['a trouble in a step where it cannot happen', { troubles: [{ trouble: 'no-contact', in: 'load/gloves' }] }, 'visit 1: no-contact cannot happen in load/gloves'],
	['a stage that must not be left out', { leaveOut: ['return'] }, 'visit 1: return cannot be left out'],
	['a stranger', { person: 'nobody' }, 'visit 1: there is no person nobody']
])('tells of %s', (_, change, sentence) => {
	const [first, ...others] = scenario.visits;
	const changed = { ...scenario, visits: [{ ...(first as Scenario['visits'][number]), ...change } as Scenario['visits'][number], ...others] };
	expect(scenarioFaults(changed, editions)).toContain(sentence);
});
