/**
 * Learns what tells voices apart, from Speech Commands, and the weights of the decision; writes static/voice/voices.f16 and voices.json, and prints
 * the figures, as bench:voice does.
 * Takes about twenty minutes on one core. Usage: npm run voice:voices
 */
import { createHash } from 'node:crypto';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { toVoicesFile, VOICES_LIST, type VoicesList } from '$lib/voice/operator/voices';
import { allSaid, hearAll, OWN_REFUSED, voiceWeighing } from './bench/operator';
import { operatorRows } from './bench/operator-rows';
import { dataFolder } from './paths';
import { eigenvoicesWithout } from './voices/learn';

const folder = 'static/voice';
const heard = hearAll(dataFolder());
const whole = eigenvoicesWithout([], heard.learned);
const bytes = toVoicesFile(whole);
const said = allSaid(heard, whole);
const list: VoicesList = {
	version: 1, file: 'voices.f16', sha256: createHash('sha256').update(bytes).digest('hex'),
	weighing: voiceWeighing(said, OWN_REFUSED)
};
writeFileSync(join(folder, list.file), bytes);
writeFileSync(join(folder, VOICES_LIST), JSON.stringify(list, null, '\t') + '\n');
for (const { name, share: { share, low, high, n, speakers } } of operatorRows(said)) console.log(`| ${name} | ${(100 * share).toFixed(1)} % (${(100 * low).toFixed(1)}–${(100 * high).toFixed(1)}; n = ${n}, ${speakers} operators) |`);
