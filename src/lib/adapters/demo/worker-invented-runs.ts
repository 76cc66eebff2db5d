import type { InventedRun, InventedRuns } from '$lib/ports/invented-runs';

/** What the worker says: a run, the end, or why it could not go on. It makes the next run when it is asked for one. */
export type DemoAnswer = { readonly run: InventedRun } | { readonly done: true } | { readonly fault: string };
export type DemoCall = 'next';

/** The invented history made in a worker that lives only as long as somebody takes runs from it. */
export const workerInventedRuns: InventedRuns = {
	async *runs() {
		const worker = new Worker(new URL('../../../workers/demo-history.worker.ts', import.meta.url), { type: 'module' });
		try {
			for (;;) {
				const answer = await ask(worker);
				if ('fault' in answer) throw new Error(answer.fault);
				if ('done' in answer) return;
				yield answer.run;
			}
		} finally {
			worker.terminate();
		}
	}
};

function ask(worker: Worker): Promise<DemoAnswer> {
	return new Promise((resolve, reject) => {
		worker.onmessage = ({ data }: MessageEvent<DemoAnswer>) => resolve(data);
		worker.onerror = (fault) => reject(new Error(`the worker that makes invented runs ended: ${fault.message}`));
		worker.postMessage('next' satisfies DemoCall);
	});
}
