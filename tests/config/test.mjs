// `npm test`: everything that must hold, in one count. Prints `N passed, N failed` last.
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, rmSync } from 'node:fs';
import { findChromium, installPackages } from './install.mjs';

installPackages();
const { generate } = await import('./generate.mjs');
mkdirSync('test-results', { recursive: true });
let passed = 0;
let failed = 0;

function step(name, command, args, env = {}) {
	const begun = performance.now();
	process.stdout.write(`\n── ${name}\n`);
	const { status } = spawnSync(command, args, { stdio: 'inherit', env: { ...process.env, ...env } });
	process.stdout.write(`   ${status === 0 ? 'well' : 'AT FAULT'}, ${((performance.now() - begun) / 1000).toFixed(0)} s\n`);
	return status === 0;
}
const npx = (name, args, env) => step(name, 'npx', ['--no-install', ...args], env);
const counted = (ok) => (ok ? passed++ : failed++);

function vitest(name, file, project, runner = ['npx', '--no-install', 'vitest'], leaveOut = []) {
	rmSync(file, { force: true });
	const [command, ...before] = runner;
	const ok = step(name, command, [...before, 'run', '--config', 'tests/config/vitest.config.ts', ...project.flatMap((p) => ['--project', p]), ...leaveOut.flatMap((path) => ['--exclude', path]), '--reporter=dot', '--reporter=json', `--outputFile.json=${file}`]);
	if (!existsSync(file)) return void failed++;
	const report = JSON.parse(readFileSync(file, 'utf8'));
	passed += report.numPassedTests;
	failed += report.numFailedTests;
	if (!ok && report.numFailedTests === 0) failed++;
}

/** Long, and about the shipped visit and the folder tree: another Node would tell nothing new. */
const COUNTED_ONCE = ['tests/simulation/mutation.test.ts', 'tests/architecture/**'];

generate();
counted(npx('lint', ['eslint', '--config', 'tests/config/eslint.config.mjs', 'src', 'tests', '--max-warnings', '0']));
counted(npx('types', ['svelte-check', '--tsconfig', './tsconfig.json', '--output', 'human', '--threshold', 'error']));
vitest('unit, component, contract, simulation, published values', 'test-results/unit.json', ['pure', 'component']);
counted(step('build', process.execPath, ['tests/config/build.mjs']));

const longTerm = spawnSync('npx', ['-y', 'node@24', '--version'], { encoding: 'utf8' });
if (longTerm.status === 0) vitest(`the pure part on Node ${longTerm.stdout.trim()}`, 'test-results/unit-24.json', ['pure'], ['npx', '-y', 'node@24', 'node_modules/vitest/vitest.mjs'], COUNTED_ONCE);
else console.error('Node 24 could not be fetched: the pure part was tested on this Node only.');

if (existsSync('tests/e2e') && findChromium()) {
	const file = 'test-results/browser.json';
	rmSync(file, { force: true });
	const ok = npx('browser', ['playwright', 'test', '--config', 'tests/config/playwright.config.ts'], { HANDRAIL_REPORT: `${process.cwd()}/${file}`, CI: 'true' });
	if (!existsSync(file)) failed++;
	else {
		const { stats } = JSON.parse(readFileSync(file, 'utf8'));
		passed += stats.expected;
		failed += stats.unexpected + stats.flaky;
		if (!ok && stats.unexpected + stats.flaky === 0) failed++;
	}
}
console.log(`\n${passed} passed, ${failed} failed`);
process.exitCode = failed ? 1 : 0;
