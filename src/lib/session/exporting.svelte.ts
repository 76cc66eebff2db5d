import { type FormatId, FORMATS } from '$lib/record/formats';
import type { ReadJournal } from '$lib/record/read-journal';
import type { Device } from './device.svelte';
import { storeFiles } from './store-files';

/** Writes runs into files that leave the device; one piece of work at a time, with how far it is. */
export interface RunExport {
	/** Runs that went into the file so far; null: nothing is being written. */
	readonly writing: { readonly done: number; readonly of: number } | null;
	/** What came of it: a file's name, a reason, or that it was stopped. */
	readonly result: { readonly kind: 'written'; readonly name: string; readonly runs: number } | { readonly kind: 'failed'; readonly reason: string } | { readonly kind: 'stopped' } | null;
	/** One run as it is shown, the sound part of a broken one. */
	one(journal: ReadJournal, format: FormatId): Promise<void>;
	many(runs: readonly string[], format: FormatId): Promise<void>;
	cancel(): void;
}

class Stopped extends Error {}

export function createRunExport(device: Pick<Device, 'store' | 'verify' | 'handingOver' | 'clock'>): RunExport {
	let writing = $state.raw<RunExport['writing']>(null);
	let result = $state.raw<RunExport['result']>(null);
	let stopped = false;
	const exporting = { files: storeFiles(device.store), verify: device.verify, paper: 'A4' as const };

	async function* opened(runs: readonly string[]): AsyncGenerator<ReadJournal> {
		for (const [done, run] of runs.entries()) {
			writing = { done, of: runs.length };
			const { events, fault } = await device.store.open(run);
			if (events.length) yield { events: [...events], fault: fault && { ...fault, line: fault.seq + 1 } };
		}
	}

	/** The browser keeps the pieces outside the page's memory as soon as they are a Blob. */
	async function handOver(content: AsyncIterable<string | Uint8Array>, name: string, type: string, runs: number): Promise<void> {
		let blob = new Blob([], { type });
		let parts: BlobPart[] = [];
		let size = 0;
		for await (const chunk of content) {
			if (stopped) throw new Stopped();
			parts.push(chunk as BlobPart);
			size += chunk.length;
			if (size < 8_000_000) continue;
			blob = new Blob([blob, ...parts], { type });
			[parts, size] = [[], 0];
		}
		device.handingOver.download(name, new Blob([blob, ...parts], { type }), type);
		result = { kind: 'written', name, runs };
	}

	async function during(of: number, work: () => Promise<void>): Promise<void> {
		if (writing) return;
		writing = { done: 0, of };
		result = null;
		stopped = false;
		try {
			await work();
		} catch (thrown) {
			result = thrown instanceof Stopped ? { kind: 'stopped' } : { kind: 'failed', reason: thrown instanceof Error ? thrown.message : String(thrown) };
		} finally {
			writing = null;
		}
	}

	return {
		get writing() {
			return writing;
		},
		get result() {
			return result;
		},
		one: (journal, id) =>
			during(1, async () => {
				const { runFileName } = await import('$lib/record/bulk');
				const { ending, type } = FORMATS[id];
				await handOver(FORMATS[id].write([journal], exporting), runFileName(journal, ending), type, 1);
			}),
		many: (runs, id) =>
			during(runs.length, async () => {
				const { manyRuns } = await import('$lib/record/bulk');
				const { ending, type, content } = manyRuns(opened(runs), FORMATS[id], exporting);
				const { stampInName } = await import('$lib/record/file-names');
				await handOver(content, `${stampInName(device.clock.now().at)}_${runs.length}-runs.${ending}`, type, runs.length);
			}),
		cancel: () => void (stopped = true)
	};
}
