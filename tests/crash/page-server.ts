import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { build } from 'esbuild';

/** A page of our own on localhost (a secure context), with the device's store and its worker bundled for it. */
export interface PageServer {
	readonly url: string;
	readonly port: number;
	close(): Promise<void>;
}

async function bundle(entry: string): Promise<string> {
	const made = await build({ entryPoints: [entry], bundle: true, write: false, format: 'esm', target: 'es2022', alias: { $lib: './src/lib' }, logLevel: 'error' });
	return made.outputFiles[0]!.text;
}

/** Must be called from the top of the project. */
export async function servePage(): Promise<PageServer> {
	const [page, worker] = [await bundle('tests/crash/page.ts'), await bundle('src/workers/journal-file.worker.ts')];
	const server: Server = createServer((request, response) => {
		const path = request.url ?? '/';
		const script = path === '/page.js' ? page : path.endsWith('/journal-file.worker.ts') ? worker : null;
		if (script !== null) response.writeHead(200, { 'content-type': 'text/javascript' }).end(script);
		else if (path === '/') response.writeHead(200, { 'content-type': 'text/html' }).end('<!doctype html><title>crash</title><p>crash</p><script type="module" src="/page.js"></script>');
		else if (path === '/favicon.ico') response.writeHead(204).end();
		else response.writeHead(404).end();
	});
	await new Promise<void>((resolve) => server.listen(0, 'localhost', resolve));
	const { port } = server.address() as AddressInfo;
	return {
		port,
		url: `http://localhost:${port}/`,
		close: () =>
			new Promise((resolve) => {
				server.close(() => resolve());
				server.closeAllConnections();
			})
	};
}
