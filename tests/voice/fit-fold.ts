/** Trains the head that never saw the speakers of one fold (0–4), or the one to ship (all). Usage: fit-fold FOLD (called by train). */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { toHalf } from '$lib/voice/half';
import { cacheFolder } from './paths';
import { readBlock } from './training/examples';
import { fit, SETTINGS } from './training/fit';
import { VOCABULARY } from './vocabulary';

const [name] = process.argv.slice(2);
if (!name || !/^([0-4]|all)$/.test(name)) throw new Error('expected a fold, 0 to 4, or all');
const block = readBlock(join(cacheFolder(), 'features'));
const rows = block.rows.filter((row) => name === 'all' || row.fold !== Number(name));
const numbers = await fit(block, rows, VOCABULARY, SETTINGS, (line) => console.log(`head ${name}: ${line}`));
const folder = join(cacheFolder(), 'heads');
mkdirSync(folder, { recursive: true });
writeFileSync(join(folder, `${name}.f16`), Buffer.from(toHalf(numbers).buffer));
