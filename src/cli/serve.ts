import { existsSync } from 'node:fs';
import { createServer } from 'node:http';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { BadUse, type Command } from './command';

/** Waits for open answers this long after SIGTERM, then ends them. */
const GRACE_MS = 500;

type Handler = (request: import('node:http').IncomingMessage, response: import('node:http').ServerResponse) => void;

export const serve: Command = {
	purpose: 'serves the app',
	usage: 'handrail serve [--port 3000] [--host localhost]\nServes the built app and prints its address. Ends on Ctrl-C.',
	async run(args, io) {
		const { port, host } = readOptions(args);
		const app = join(dirname(fileURLToPath(import.meta.url)), '../app/handler.js');
		if (!existsSync(app)) throw new BadUse('the app is not built: run "npm run build" first');
		const { handler } = (await import(pathToFileURL(app).href)) as { handler: Handler };
		const server = createServer(handler);
		await new Promise<void>((resolve, reject) => {
			server.once('error', (fault: NodeJS.ErrnoException) =>
				reject(fault.code === 'EADDRINUSE' ? new BadUse(`port ${port} is in use; choose another with --port`) : fault)
			);
			server.listen(port, host, resolve);
		});
		io.out(`Handrail is at http://${host}:${port}\n`);
		await new Promise<void>((resolve) => {
			const end = () => {
				server.close(() => resolve());
				setTimeout(() => server.closeAllConnections(), GRACE_MS).unref();
			};
			process.once('SIGINT', end);
			process.once('SIGTERM', end);
		});
		return 0;
	}
};

function readOptions(args: readonly string[]): { port: number; host: string } {
	const options = { port: 3000, host: 'localhost' };
	for (let i = 0; i < args.length; i += 2) {
		const [name, value] = [args[i], args[i + 1]];
		if (name === '--host' && value) options.host = value;
		else if (name === '--port' && value && /^\d{1,5}$/.test(value) && Number(value) < 65536) options.port = Number(value);
		else throw new BadUse(`"${[name, value].filter(Boolean).join(' ')}" is not understood; expected --port NUMBER or --host NAME`);
	}
	return options;
}
