/** Where the recordings are read from and where training keeps what can be made anew. */
import { existsSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';

/** Folder of the recordings (HANDRAIL_DATA, else ../shared/data). Throws a plain sentence where there is none. */
export function dataFolder(): string {
	const folder = resolve(process.env['HANDRAIL_DATA'] ?? '../shared/data');
	if (!existsSync(join(folder, 'speech', 'manifest.csv'))) {
		throw new Error(
			`no recordings: expected speech/manifest.csv in ${folder}; set HANDRAIL_DATA to the folder that holds speech/ and talk/`
		);
	}
	return folder;
}

/** Folder for synthetic speech and features (HANDRAIL_VOICE_CACHE, else one in the system's temporary folder). */
export const cacheFolder = (): string => resolve(process.env['HANDRAIL_VOICE_CACHE'] ?? join(tmpdir(), 'handrail-voice'));
