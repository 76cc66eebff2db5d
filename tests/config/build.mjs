// Builds everything that runs: compiled editions, the app, its server, and the command line.
import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { build } from 'esbuild';
import { generate } from './generate.mjs';

generate();
await build({
	entryPoints: ['src/cli/handrail.ts'],
	outfile: 'build/cli/handrail.js',
	bundle: true,
	platform: 'node',
	format: 'esm',
	target: 'node20',
	packages: 'external',
	alias: { $lib: './src/lib' },
	banner: { js: '#!/usr/bin/env node' },
	logLevel: 'warning'
});
if (existsSync('src/routes/+layout.svelte') && !process.argv.includes('--cli'))
	execFileSync('npx', ['--no-install', 'vite', 'build', '--config', 'tests/config/vite.config.ts', '--logLevel', 'warn'], { stdio: 'inherit' });
