import type { BeginRecogniser, FromRecogniser } from './messages';

/** The recogniser in a worker of its own, so that listening never waits for the screen. */
export const workerRecogniser: BeginRecogniser = (take, fail) => {
	const worker = new Worker(new URL('../../../workers/ears.worker.ts', import.meta.url), { type: 'module' });
	worker.onmessage = ({ data }: MessageEvent<FromRecogniser>) => take(data);
	worker.onerror = ({ message }) => fail(message || 'the recogniser broke down');
	return { post: (message) => worker.postMessage(message), close: () => worker.terminate() };
};
