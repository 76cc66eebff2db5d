import type { FileCall } from '$lib/adapters/opfs/calls';
import type { FileLine } from '$lib/adapters/opfs/file-copy';
import { serveFiles } from '$lib/adapters/opfs/serve-files';

/** The worker's end and the page's end in one place; everything passes by structured clone, as between threads. */
export function fakeLine(root: FileSystemDirectoryHandle): FileLine {
	const line: FileLine = { onmessage: null, onerror: null, postMessage: (call) => serve(structuredClone(call) as FileCall) };
	const serve = serveFiles(
		async () => root,
		(answer) => line.onmessage?.({ data: structuredClone(answer) } as MessageEvent)
	);
	return line;
}
