import type { FileCall } from '$lib/adapters/opfs/calls';
import { serveFiles } from '$lib/adapters/opfs/serve-files';

const worker = self as unknown as { onmessage: (message: MessageEvent<FileCall>) => void; postMessage(answer: unknown, transfer: Transferable[]): void };
const serve = serveFiles(() => navigator.storage.getDirectory(), (answer, transfer) => worker.postMessage(answer, transfer));
worker.onmessage = ({ data }) => serve(data);
