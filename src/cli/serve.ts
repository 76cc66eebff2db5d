import { existsSync, readFileSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import { createServer as createSecureServer } from 'node:https';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { BadUse, type Command } from './command';

/** Waits for open answers this long after SIGTERM, then ends them. */
const GRACE_MS = 500;

type Handler = (request: import('node:http').IncomingMessage, response: import('node:http').ServerResponse) => void;

export const serve: Command = {
	purpose: 'serves the app',
	usage:
		'handrail serve [--port 3000] [--host localhost] [--cert FILE --key FILE]\nServes the built app and prints its address. Ends on Ctrl-C. Tablets keep records and work offline only over https:\ngive a certificate and its key (PEM), or put a server that has them in front. This machine itself may use http.',
	async run(args, io) {
		const { port, host, secure } = readOptions(args);
		const app = join(dirname(fileURLToPath(import.meta.url)), '../app/handler.js');
		if (!existsSync(app)) throw new BadUse('the app is not built: run "npm run build" first');
		const { handler } = (await import(pathToFileURL(app).href)) as { handler: Handler };
		const server = secure ? secureServer(secure, handler) : createServer(handler);
		await new Promise<void>((resolve, reject) => {
			server.once('error', (fault: NodeJS.ErrnoException) =>
				reject(fault.code === 'EADDRINUSE' ? new BadUse(`port ${port} is in use; choose another with --port`) : fault)
			);
			server.listen(port, host, resolve);
		});
		io.out(`Handrail is at ${secure ? 'https' : 'http'}://${host}:${port}\n`);
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

interface Secure {
	readonly cert: string;
	readonly key: string;
}

function secureServer({ cert, key }: Secure, handler: Handler): Server {
	const read = (path: string, what: string) => {
		try {
			return readFileSync(path);
		} catch {
			throw new BadUse(`the ${what} ${path} can't be read; expected a file in PEM form`);
		}
	};
	const [certificate, privateKey] = [read(cert, 'certificate'), read(key, 'key')];
	try {
		return createSecureServer({ cert: certificate, key: privateKey }, handler);
	} catch (thrown) {
		throw new BadUse(`${cert} and ${key} are no certificate and its key in PEM form: ${thrown instanceof Error ? thrown.message : String(thrown)}`);
	}
}

function readOptions(args: readonly string[]): { port: number; host: string; secure: Secure | null } {
	const options = { port: 3000, host: 'localhost', cert: '', key: '' };
	for (let i = 0; i < args.length; i += 2) {
		const [name, value] = [args[i], args[i + 1]];
		if (name === '--host' && value) options.host = value;
		else if (name === '--port' && value && /^\d{1,5}$/.test(value) && Number(value) < 65536) options.port = Number(value);
		else if ((name === '--cert' || name === '--key') && value) options[name === '--cert' ? 'cert' : 'key'] = value;
		else throw new BadUse(`"${[name, value].filter(Boolean).join(' ')}" is not understood; expected --port NUMBER, --host NAME, --cert FILE or --key FILE`);
	}
	const { port, host, cert, key } = options;
	if ((cert === '') !== (key === '')) throw new BadUse('--cert and --key belong together: a certificate and its key');
	return { port, host, secure: cert === '' ? null : { cert, key } };
}
