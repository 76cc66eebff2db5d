import { readFile } from 'node:fs/promises';
import { describe, expect, it } from 'vitest';
import { COMMANDS } from '$lib/run/commands';
import { DamagedModel, EARS_LIST, loadModel } from './model';

const shipped = async (name: string): Promise<Uint8Array> => new Uint8Array(await readFile(`static/voice/${name}`));

describe('the shipped recogniser', () => {
	it('V1: knows every word that the table of commands says', async () => {
		const { words } = await loadModel(shipped);
		expect(COMMANDS.flatMap((row) => row.said['en'] ?? []).filter((word) => !words.includes(word))).toEqual([]);
	});
	it('V2: a file with one bit changed is refused with its name', async () => {
		const damaged = async (name: string) => {
			const bytes = await shipped(name);
			if (name === 'head.f16') bytes[1000] = bytes[1000]! ^ 1;
			return bytes;
		};
		await expect(loadModel(damaged)).rejects.toThrow(DamagedModel);
		await expect(loadModel(damaged)).rejects.toThrow('head.f16 is damaged');
	});
	it('V2: a list of another version is refused', async () => {
		const other = async (name: string) => (name === EARS_LIST ? new TextEncoder().encode('{"version":2}') : shipped(name));
		await expect(loadModel(other)).rejects.toThrow('version 2, expected 1');
	});
	it('V3: all that the app loads for hearing is below 1.3 MB', async () => {
		const sizes = await Promise.all([EARS_LIST, 'embedding.f16', 'head.f16'].map(async (name) => (await shipped(name)).length));
		expect(sizes.reduce((a, b) => a + b)).toBeLessThan(1_300_000);
	});
});
