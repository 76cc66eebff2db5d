import { journalText } from '$lib/record/journal-text';
import { StoreFault } from '../store-fault';
import type { JournalCopy } from '../two-copies/copy';
import type { FileAnswer, FileCall, FileCalls } from './calls';

/** The end of a line to the worker: a Worker, or its like in tests. */
export interface FileLine {
	postMessage(call: FileCall, transfer: Transferable[]): void;
	onmessage: ((message: MessageEvent<FileAnswer>) => void) | null;
	onerror: ((fault: ErrorEvent) => void) | null;
}

/** The journals as files, kept by a worker at the other end of the line. */
export function fileCopy(line: FileLine): JournalCopy & { probe(): Promise<void> } {
	const waiting = new Map<number, { resolve(value: unknown): void; reject(reason: StoreFault): void }>();
	let nextId = 0;
	let gone: StoreFault | null = null;
	line.onmessage = ({ data }) => {
		const wait = waiting.get(data.id);
		waiting.delete(data.id);
		if ('fault' in data) wait?.reject(new StoreFault(data.fault.code, data.fault.message));
		else wait?.resolve(data.result);
	};
	line.onerror = (fault) => {
		gone = new StoreFault('failed', `the worker that keeps the journal file ended: ${fault.message}`);
		for (const { reject } of waiting.values()) reject(gone);
		waiting.clear();
	};
	function call<K extends keyof FileCalls>(name: K, ...args: Parameters<FileCalls[K]>): ReturnType<FileCalls[K]> {
		const id = nextId++;
		return new Promise((resolve, reject) => {
			if (gone) return reject(gone);
			waiting.set(id, { resolve, reject });
			line.postMessage({ id, call: name, args }, []);
		}) as ReturnType<FileCalls[K]>;
	}
	const textOf = (lines: readonly string[]) => lines.map((one) => one + '\n').join('');

	return {
		name: 'file',
		/** Rejects where files can't be written here. */
		probe: () => call('probe'),
		runs: async () => new Map(await call('runs')),
		read: async (run) => journalText(await call('bytes', run)),
		bytes: (run) => call('bytes', run),
		append: (run, _, lines, atBytes) => call('append', run, textOf(lines), atBytes),
		repair: (run, { keepBytes, lines, setAside }) => call('repair', run, keepBytes, textOf(lines), setAside),
		letGo: (run) => call('letGo', run),
		remove: (run) => call('remove', run),
		putAttachment: (run, sha256, bytes, type) => call('putAttachment', run, sha256, bytes, type),
		attachment: (run, sha256) => call('attachment', run, sha256),
		beat: (run, beat) => call('beat', run, beat),
		lastBeat: (run) => call('lastBeat', run)
	};
}
