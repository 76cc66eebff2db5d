import type { FromRecogniser, ToRecogniser } from '$lib/adapters/own-ears/messages';
import { serveRecogniser } from '$lib/adapters/own-ears/serve-recogniser';

const worker = self as unknown as { onmessage: (message: MessageEvent<ToRecogniser>) => void; postMessage(message: FromRecogniser): void };

/** A file of the recogniser, from this app alone; kept on the device by the service worker. */
async function read(file: string): Promise<Uint8Array> {
	const answer = await fetch(`/voice/${file}`);
	if (!answer.ok) throw new Error(`${file} is missing: the answer was ${answer.status}`);
	return new Uint8Array(await answer.arrayBuffer());
}

const serve = serveRecogniser(read, (message) => worker.postMessage(message));
worker.onmessage = ({ data }) => serve(data);
