import { asStoreFault } from '../store-fault';
import type { FileAnswer, FileCall } from './calls';
import { JournalFiles } from './journal-files';

/** The worker's side: answers calls one after another, so that no two touch a file at once. */
export function serveFiles(root: () => Promise<FileSystemDirectoryHandle>, answer: (answer: FileAnswer, transfer: Transferable[]) => void): (call: FileCall) => void {
	const files = root().then((handle) => new JournalFiles(handle));
	let turn: Promise<void> = Promise.resolve();
	return ({ id, call, args }) => {
		turn = turn.then(async () => {
			try {
				const method = (await files)[call] as (...args: unknown[]) => Promise<unknown>;
				const result = await method.apply(await files, args);
				answer({ id, result }, result instanceof Uint8Array ? [result.buffer] : []);
			} catch (thrown) {
				const { code, message } = asStoreFault(thrown, `the journal file (${call})`);
				answer({ id, fault: { code, message } }, []);
			}
		});
	};
}
