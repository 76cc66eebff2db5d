import type { TimeAnswer, TimeCall } from '$lib/adapters/timekeeper/calls';
import { serveTime } from '$lib/adapters/timekeeper/serve-time';

const worker = self as unknown as { onmessage: (message: MessageEvent<TimeCall>) => void; postMessage(answer: TimeAnswer): void };
const serve = serveTime((answer) => worker.postMessage(answer));
worker.onmessage = ({ data }) => serve(data);
