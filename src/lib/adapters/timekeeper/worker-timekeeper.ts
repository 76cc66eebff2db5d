import { lineTimekeeper } from './line-timekeeper';

/** The timekeeper of this browser: one worker for the page, started when it is first needed. */
export const workerTimekeeper = lineTimekeeper(() => new Worker(new URL('../../../workers/timekeeper.worker.ts', import.meta.url), { type: 'module' }));
