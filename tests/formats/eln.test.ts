import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { Ajv } from 'ajv';
import { BlobReader, Uint8ArrayWriter, ZipReader, type FileEntry } from '@zip.js/zip.js';
import { describe, expect, it } from 'vitest';
import { verifyEd25519 } from '$lib/adapters/signer/verify-ed25519';
import { toEln } from '$lib/record/eln';
import { type AttachedFiles, noFiles } from '$lib/record/exporting';
import type { ReadJournal } from '$lib/record/read-journal';
import { eventful, journalOf, journals } from './journals';

/**
 * Rules of the .eln file format (TheELNConsortium, SPECIFICATION.md and tests, MIT licence) and of RO-Crate 1.1 and the Process
 * Run Crate profile 0.5 (as the shapes of rocrate-validator state them, Apache-2.0), written out here one by one. The archive is
 * read by a library that did not write it.
 */
async function bytesOf(journal: ReadJournal, files: AttachedFiles = noFiles): Promise<Buffer> {
	const chunks: Uint8Array[] = [];
	for await (const chunk of toEln(journal, { files, verify: verifyEd25519, paper: 'A4' })) chunks.push(chunk);
	return Buffer.concat(chunks);
}
const validMetadata = new Ajv({ strict: false, validateFormats: false }).compile(JSON.parse(readFileSync(new URL('./schemas/eln.schema.json', import.meta.url), 'utf8')) as object);

type Entity = Readonly<Record<string, unknown>> & { readonly '@id': string; readonly '@type': string | readonly string[] };
interface Archive {
	readonly names: string[];
	readonly root: string;
	readonly graph: Entity[];
	read(path: string): Promise<Buffer>;
}
async function open(bytes: Uint8Array): Promise<Archive> {
	const entries = await new ZipReader(new BlobReader(new Blob([bytes as Uint8Array<ArrayBuffer>])), { checkSignature: true }).getEntries();
	const read = async (path: string) => Buffer.from(await (entries.find(({ filename }) => filename === path) as FileEntry).getData(new Uint8ArrayWriter()));
	const names = entries.map(({ filename }) => filename);
	const root = names[0]!.split('/')[0]!;
	const metadata = JSON.parse((await read(`${root}/ro-crate-metadata.json`)).toString()) as { '@graph': Entity[] };
	return { names, root, graph: metadata['@graph'], read };
}
const list = <T>(value: T | readonly T[] | undefined): readonly T[] => (value === undefined ? [] : Array.isArray(value) ? (value as readonly T[]) : [value as T]);
const idsOf = (value: unknown) => list(value as { '@id': string }).map((one) => one['@id']);
const typed = (graph: readonly Entity[], type: string) => graph.filter((one) => list(one['@type']).includes(type));

describe.each(journals())('X15 .eln of a run: %s', (_, journal) => {
	it('archive: one folder at the root, the metadata first, the same bytes each time', async () => {
		const bytes = await bytesOf(journal);
		const { names, root } = await open(bytes);
		expect(names[0]).toBe(`${root}/ro-crate-metadata.json`);
		for (const name of names) expect(name.startsWith(`${root}/`)).toBe(true);
		expect(new Set(names).size).toBe(names.length);
		expect((await bytesOf(journal)).equals(bytes)).toBe(true);
	});
	it('graph: flat, unique ids, every reference resolves, required properties of the consortium', async () => {
		const { graph } = await open(await bytesOf(journal));
		const ids = new Set(graph.map((one) => one['@id']));
		expect(ids.size).toBe(graph.length);
		for (const entity of graph)
			for (const [name, value] of Object.entries(entity)) {
				if (name.startsWith('@') || name === 'conformsTo') continue;
				for (const one of list(value)) {
					if (typeof one !== 'object' || one === null) continue;
					expect(Object.keys(one as object), `${entity['@id']} ${name}`).toEqual(['@id']);
					expect([...ids], `${entity['@id']} ${name}`).toContain((one as { '@id': string })['@id']);
				}
				expect(value, `${entity['@id']} ${name}`).not.toBe('');
			}
		const [descriptor] = graph;
		expect(descriptor).toMatchObject({ '@id': 'ro-crate-metadata.json', '@type': 'CreativeWork', about: { '@id': './' }, conformsTo: { '@id': 'https://w3id.org/ro/crate/1.1' }, version: expect.any(String) as string, sdPublisher: { '@id': expect.any(String) as string } });
		const publisher = graph.find((one) => one['@id'] === idsOf(descriptor!['sdPublisher'])[0]);
		expect(publisher).toMatchObject({ '@type': 'Organization', name: expect.any(String) as string, url: expect.stringMatching(/^https:/) as string });
		const root = graph.find((one) => one['@id'] === './')!;
		expect(root).toMatchObject({ name: expect.any(String) as string, description: expect.any(String) as string, datePublished: expect.stringMatching(/^\d{4}-\d\d-\d\dT/) as string, license: expect.anything() as unknown });
		for (const dataset of typed(graph, 'Dataset')) {
			expect(dataset['name']).toBeTruthy();
			expect(Array.isArray(dataset['hasPart'])).toBe(true);
			for (const one of ['keywords', 'identifier', 'encodingFormat', 'genre', 'url']) expect(typeof (dataset[one] ?? '')).toBe('string');
			if (dataset['@id'] !== './') expect([Array.isArray(dataset['author']), Array.isArray(dataset['comment'])]).toEqual([false, true]);
		}
	});
	it('is valid by the consortium’s own schema', async () => {
		const { graph } = await open(await bytesOf(journal));
		expect(validMetadata({ '@context': [], '@graph': graph }), JSON.stringify(validMetadata.errors)).toBe(true);
	});
	it('files: each is in the archive with the size and hash that the graph tells, and each file of the archive is in the graph', async () => {
		const { graph, names, root, read } = await open(await bytesOf(journal));
		const files = typed(graph, 'File');
		const parts = typed(graph, 'Dataset').flatMap((dataset) => idsOf(dataset['hasPart']));
		for (const file of files) {
			const bytes = await read(`${root}/${decodeURIComponent(file['@id'].slice(2))}`);
			expect([file['contentSize'], file['sha256']]).toEqual([String(bytes.length), createHash('sha256').update(bytes).digest('hex')]);
			expect(parts).toContain(file['@id']);
			expect(file['name'] && file['encodingFormat']).toBeTruthy();
		}
		expect(files.length).toBe(names.length - 1);
	});
	it('Process Run Crate: profile, one action a visit of a step, instrument of software, agent a person, ISO 8601 times', async () => {
		const { graph } = await open(await bytesOf(journal));
		const root = graph.find((one) => one['@id'] === './')!;
		expect(idsOf(root['conformsTo'])).toContain('https://w3id.org/ro/wfrun/process/0.5');
		expect(graph.find((one) => one['@id'] === 'https://w3id.org/ro/wfrun/process/0.5')).toMatchObject({ '@type': 'CreativeWork', name: expect.any(String) as string, version: '0.5' });
		const actions = [...typed(graph, 'CreateAction'), ...typed(graph, 'UpdateAction')];
		expect(actions.length).toBe(new Set(journal.events.filter(({ kind }) => kind === 'stepEntered').map(({ seq }) => seq)).size);
		expect(new Set(idsOf(root['mentions']))).toEqual(new Set(actions.map((one) => one['@id'])));
		const by = new Map(graph.map((one) => [one['@id'], one]));
		for (const action of actions) {
			for (const id of idsOf(action['instrument'])) expect(list(by.get(id)!['@type'])).toContain('SoftwareApplication');
			for (const id of idsOf(action['agent'])) expect(list(by.get(id)!['@type'])).toContain('Person');
			expect(idsOf(action['instrument'])).toHaveLength(1);
			for (const name of ['startTime', 'endTime']) if (action[name] !== undefined) expect(action[name]).toMatch(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?(Z|[+-]\d\d:\d\d)$/);
			if (action['endTime'] !== undefined) expect(action['actionStatus']).toMatch(/^http:\/\/schema\.org\/(Completed|Failed)ActionStatus$/);
			expect(idsOf(action['result']).length).toBeGreaterThan(0);
			if (action['error'] !== undefined) expect(action['actionStatus']).toBe('http://schema.org/FailedActionStatus');
			for (const id of idsOf(action['result'])) expect(list(by.get(id)!['@type']).some((type) => ['File', 'PropertyValue'].includes(type))).toBe(true);
		}
		for (const software of typed(graph, 'SoftwareApplication')) expect(software).toMatchObject({ name: expect.any(String) as string, url: expect.any(String) as string, softwareVersion: expect.any(String) as string });
	});
});

describe('X15 what travels in an .eln', () => {
	const photo = Buffer.from('not really a photograph');
	const sha256 = createHash('sha256').update(photo).digest('hex');
	const withPhoto = () => {
		const walk = eventful();
		walk.give({ id: 'attachment', sha256, type: 'image/jpeg', bytes: photo.length, name: 'x.jpg' });
		return journalOf(walk);
	};
	const files: AttachedFiles = { has: async (_, hash) => hash === sha256, read: async () => photo };
	it('the journal byte for byte, photographs that are here, readings as PropertyValue with their UN/CEFACT code', async () => {
		const journal = withPhoto();
		const { graph, names, read } = await open(await bytesOf(journal, files));
		expect(readJournalText(await read(names.find((name) => name.endsWith('.journal.jsonl'))!))).toEqual(journal.events.map(({ hash }) => hash));
		expect((await read(names.find((name) => name.endsWith('.jpg'))!)).equals(photo)).toBe(true);
		expect(typed(graph, 'PropertyValue')).toContainEqual(expect.objectContaining({ value: 10, unitText: 'µm', unitCode: '4H' }));
	});
	it('a photograph whose bytes do not fit its hash is refused, and one that is gone too', async () => {
		await expect(bytesOf(withPhoto(), { ...files, read: async () => Buffer.from('another photograph...ph') })).rejects.toThrow('was altered');
		await expect(bytesOf(withPhoto(), { ...files, read: async () => null })).rejects.toThrow('is not now');
	});
});
const readJournalText = (bytes: Buffer) => bytes.toString().trimEnd().split('\n').map((line) => (JSON.parse(line) as { hash: string }).hash);
