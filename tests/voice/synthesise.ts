/** Makes the synthetic speech that training needs. Usage: node tests/voice/run.mjs synthesise */
import { join } from 'node:path';
import { cacheFolder } from './paths';
import { plan } from './synthesis/plan';
import { speak } from './synthesis/speak';

const utterances = plan(join(cacheFolder(), 'synthetic'), 1);
console.log(`${utterances.length} utterances`);
await speak(utterances);
