import { readdirSync, readFileSync } from 'node:fs';
import { render, screen } from '@testing-library/svelte';
import { describe, expect, it } from 'vitest';
import { compileProcedure } from '$lib/procedure/compile';
import Drawing from './Drawing.svelte';
import { readParameters, type Given } from './parameters';
import { drawings } from './registry';

const read = (name: string) => readFileSync(`procedures/${name}`, 'utf8');
const shipped = readdirSync('procedures').filter((name) => name.endsWith('.yaml') && /^procedure:/m.test(read(name)));

const parameters = new Map(await Promise.all(Object.entries(drawings).map(async ([name, load]) => [name, (await load()).parameters] as const)));

describe.each(shipped)('%s', (name) => {
	const made = compileProcedure(read(name), name, read);
	it('uses only drawings and parameters that are known', () => {
		if ('faults' in made) throw new Error(`${name} does not compile`);
		const faults = Object.values(made.edition.steps).flatMap(({ path, drawing }) => {
			if (!drawing) return [];
			const spec = parameters.get(drawing.name);
			if (!spec) return [`${path}: no drawing "${drawing.name}"`];
			// what the run fills in can't be judged here; null stands for it
			const given: Given = Object.fromEntries(Object.entries(drawing.with).map(([key, value]) => [key, /^(reading|part):/.test(String(value)) ? null : value]));
			return readParameters(spec, given).faults.map((fault) => `${path}: ${fault}`);
		});
		expect(faults).toEqual([]);
	});
	it('feeds its drawings with conditions that they understand', () => {
		if ('faults' in made) throw new Error(`${name} does not compile`);
		for (const { drawing } of Object.values(made.edition.steps))
			for (const [parameter, value] of Object.entries(drawing?.with ?? {}))
				for (const condition of made.edition.parts.find((part) => `part:${part.id}` === value)?.conditions ?? [])
					expect(readParameters(parameters.get(drawing?.name ?? '') ?? {}, { [parameter]: condition.id }).faults, `${value} ${condition.id}`).toEqual([]);
	});
});

describe('a drawing', () => {
	it.each(Object.keys(drawings))('"%s" draws with nothing known and says so in words', async (name) => {
		const { container } = render(Drawing, { name, given: {} });
		expect((await screen.findByRole('img')).getAttribute('aria-label')).toMatch(/\w+.*\.$/);
		expect(container.innerHTML).not.toMatch(/NaN|undefined|Infinity/);
	});
	it('says which drawings there are where the name is none', async () => {
		render(Drawing, { name: 'three views', given: {} });
		expect(await screen.findByText(/^There is no drawing called “three views”. Known: two views, jaws and shank, holder with slots, post and lamella/)).toBeTruthy();
	});
});
