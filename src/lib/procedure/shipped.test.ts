import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { compileProcedure } from './compile';
import { faultLine } from './fault';

const at = (name: string) => new URL(`../../../procedures/${name}`, import.meta.url);
const shipped = readdirSync(at('.')).filter((name) => name.endsWith('.yaml') && /^procedure:/m.test(readFileSync(at(name), 'utf8')));

describe.each(shipped)('%s', (name) => {
	it('compiles without a fault', () => {
		const made = compileProcedure(readFileSync(at(name), 'utf8'), name, (file) => readFileSync(at(file), 'utf8'));
		expect('faults' in made ? made.faults.map(faultLine) : []).toEqual([]);
	});
});
