/** Makes the synthetic speech that training needs. Usage: node tests/voice/run.mjs synthesise */
import { keptPlan } from './synthesis/kept-plan';
import { speak } from './synthesis/speak';

const utterances = keptPlan();
console.log(`${utterances.length} utterances`);
await speak(utterances);
