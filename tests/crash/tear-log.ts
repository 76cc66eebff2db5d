import { appendFileSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';

const BLOCK = 32_768;
const HEADER = 7;

/**
 * Leaves at the end of the browser's database log what a kill between a record's two writes leaves: its header (checksum,
 * length, type FULL) without its payload. Log format: LevelDB's doc/log_format.md (blocks of 32 KiB; a block's last bytes
 * that can't hold a header are zeros). Returns the file's name; throws if there is none.
 */
export function tearLog(profile: string, port: number): string {
	const folder = join(profile, 'Default/IndexedDB', `http_localhost_${port}.indexeddb.leveldb`);
	const logs = readdirSync(folder).filter((name) => name.endsWith('.log')).sort();
	const log = logs[logs.length - 1];
	if (!log) throw new Error(`no log file in ${folder}`);
	const path = join(folder, log);
	const left = BLOCK - (statSync(path).size % BLOCK);
	const padding = left < HEADER ? left : 0;
	const header = Uint8Array.from([0xde, 0xad, 0xbe, 0xef, 100, 0, 1]);
	appendFileSync(path, Buffer.concat([Buffer.alloc(padding), header]));
	return log;
}
