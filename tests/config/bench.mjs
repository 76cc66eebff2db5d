// `npm run bench`: every figure of tests/bench as a table and as JSON, with machine and date.
import { mkdirSync, readdirSync, writeFileSync } from 'node:fs';
import { cpus } from 'node:os';
import { pathToFileURL } from 'node:url';
import { build } from 'esbuild';
import { installPackages } from './install.mjs';

installPackages();
const only = process.argv[2];
const names = readdirSync('tests/bench').filter((name) => name.endsWith('.bench.ts') && (!only || name.startsWith(only)));
mkdirSync('build/bench', { recursive: true });
const figures = [];
for (const name of names) {
	const outfile = `build/bench/${name.replace('.ts', '.mjs')}`;
	await build({ entryPoints: [`tests/bench/${name}`], outfile, bundle: true, platform: 'node', format: 'esm', packages: 'external', alias: { $lib: './src/lib' }, logLevel: 'error' });
	const { figures: measure } = await import(pathToFileURL(outfile).href);
	for (const figure of await measure()) figures.push({ bench: name.replace('.bench.ts', ''), ...figure });
}
const show = (f) => `${f.value}${f.unit ? ` ${f.unit}` : ''}`;
console.table(figures.map((f) => ({ bench: f.bench, figure: f.name, value: show(f), goal: f.goal ?? '', n: f.n ?? '', interval: f.interval ? `${f.interval[0]}–${f.interval[1]}` : '', source: f.source })));
const report = { date: new Date().toISOString(), node: process.version, machine: `${cpus().length} × ${cpus()[0]?.model ?? 'unknown'}`, figures };
writeFileSync('build/bench/figures.json', JSON.stringify(report, null, '\t') + '\n');
console.log(JSON.stringify(report));
