/** The plan of what is synthesised, written down once: the search for words that sound alike takes half a minute. */
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { cacheFolder } from '../paths';
import { plan, type Spoken } from './plan';

export const SEED = 1;

export function keptPlan(): readonly Spoken[] {
	const path = join(cacheFolder(), 'plan.json');
	if (existsSync(path)) return JSON.parse(readFileSync(path, 'utf8')) as Spoken[];
	const made = plan(join(cacheFolder(), 'synthetic'), SEED);
	mkdirSync(cacheFolder(), { recursive: true });
	writeFileSync(path, JSON.stringify(made));
	return made;
}
