import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

const cruise = (target: string) =>
	spawnSync('npx', ['--no-install', 'depcruise', '--config', 'tests/config/boundaries.cjs', '--output-type', 'err', target], { encoding: 'utf8' });

describe('imports point one way', () => {
	it('A1. no file imports outward', () => {
		const { status, stdout } = cruise('src');
		expect(stdout).toContain('no dependency violations');
		expect(status).toBe(0);
	});

	it('A2. a planted violation is found, through the $lib alias', () => {
		const folder = mkdtempSync('src/lib/run/planted-');
		try {
			writeFileSync(`${folder}/outward.ts`, "import { idbSettings } from '$lib/adapters/settings/idb-settings';\nexport const planted = idbSettings;\n");
			const { status, stdout } = cruise('src/lib/run');
			expect(stdout).toContain('pure-folders-import-nothing-outward');
			expect(status).not.toBe(0);
		} finally {
			rmSync(folder, { recursive: true });
		}
	});

	it('A3. nothing but the agreed names stands at the top of the tree', () => {
		const top = new Set(execFileSync('git', ['ls-files'], { encoding: 'utf8' }).trim().split('\n').map((path) => path.split('/')[0]));
		const agreed = ['README.md', 'DEVELOPERS.md', 'LICENSE', 'package.json', 'package-lock.json', 'tsconfig.json', 'svelte.config.js', 'src', 'static', 'tests', 'procedures'];
		expect([...top].filter((name) => !name!.startsWith('.') && !agreed.includes(name!))).toEqual([]);
	});
});
