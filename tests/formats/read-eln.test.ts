import { createHash } from 'node:crypto';
import { type Zippable, unzipSync, zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { verifyEd25519 } from '$lib/adapters/signer/verify-ed25519';
import { toEln } from '$lib/record/eln';
import { type AttachedFiles, noFiles } from '$lib/record/exporting';
import { readEln } from '$lib/record/read-eln';
import type { ReadJournal } from '$lib/record/read-journal';
import { eventful, journals, journalOf, textOf } from './journals';

async function bytesOf(journal: ReadJournal, files: AttachedFiles = noFiles): Promise<Uint8Array> {
	const chunks: Uint8Array[] = [];
	for await (const chunk of toEln(journal, { files, verify: verifyEd25519, paper: 'A4' })) chunks.push(chunk);
	return Buffer.concat(chunks);
}
const read = (bytes: Uint8Array) => readEln(new Blob([bytes as Uint8Array<ArrayBuffer>]));
const refused = (bytes: Uint8Array, reason: string | RegExp) => expect(read(bytes)).rejects.toThrow(reason);
const text = textOf(eventful());
/** The archive taken apart, changed, and put together by a library as others would. */
async function changed(change: (files: Record<string, Uint8Array>, root: string) => Record<string, Uint8Array> | void, level: 0 | 6 = 6): Promise<Uint8Array> {
	const files = unzipSync(await bytesOf(journalOf(eventful())));
	const root = Object.keys(files)[0]!.split('/')[0]!;
	return zipSync((change(files, root) ?? files) as Zippable, { level });
}
const metadata = (files: Record<string, Uint8Array>, root: string, edit: (graph: Record<string, unknown>[]) => void) => {
	const path = `${root}/ro-crate-metadata.json`;
	const value = JSON.parse(Buffer.from(files[path]!).toString()) as { '@graph': Record<string, unknown>[] };
	edit(value['@graph']);
	files[path] = Buffer.from(JSON.stringify(value));
};

describe('X16 back again', () => {
	it.each(journals().filter(([, { fault }]) => !fault))('the same journal byte for byte: %s', async (_, journal) => {
		const run = await read(await bytesOf(journal));
		expect(run.journal.events).toEqual(journal.events);
		expect(Buffer.from(await bytesOf(run.journal)).equals(await bytesOf(journal))).toBe(true);
	});
	it('the bytes are those of the journal file', async () => expect(Buffer.from((await read(await bytesOf(journalOf(eventful())))).bytes).toString()).toBe(text));
	it('photographs come back with their hash', async () => {
		const photo = Buffer.from('not really a photograph');
		const sha256 = createHash('sha256').update(photo).digest('hex');
		const walk = eventful();
		walk.give({ id: 'attachment', sha256, type: 'image/jpeg', bytes: photo.length, name: 'x.jpg' });
		const run = await read(await bytesOf(journalOf(walk), { has: async (_, hash) => hash === sha256, read: async () => photo }));
		const files = [];
		for await (const file of run.files()) files.push([file.sha256, file.type, Buffer.from(file.bytes).toString()]);
		expect(files).toEqual([[sha256, 'image/jpeg', photo.toString()]]);
	});
	it('an archive that others packed anew, with files of their own in it, is read too', async () =>
		expect((await read(await changed((files, root) => void (files[`${root}/ro-crate-preview.html`] = Buffer.from('<p>')), 0))).journal.events.length).toBeGreaterThan(10));
	it('every bit of the archive that is flipped is found, or is none of the journal’s', async () => {
		const bytes = await bytesOf(journalOf(eventful()));
		const whole = Buffer.from((await read(bytes)).bytes);
		// every 397th byte: the figure over all bits is measured in the bench
		for (let at = 0; at < bytes.length; at += 397) {
			const flipped = bytes.slice();
			flipped[at]! ^= 1 << (at % 8);
			const run = await read(flipped).catch((fault: unknown) => fault);
			if (run instanceof Error) expect(run).toBeInstanceOf(RangeError);
			else expect(Buffer.from((run as Awaited<ReturnType<typeof read>>).bytes).equals(whole)).toBe(true);
		}
	}, 120_000);
});

describe('X17 refused, with the reason', () => {
	const path = (files: Record<string, Uint8Array>, ending: string) => Object.keys(files).find((name) => name.endsWith(ending))!;
	it('no archive, an empty one, a cut one', async () => {
		await refused(Buffer.from('PK hello'), 'no ZIP archive');
		await refused(zipSync({}), 'folders at its root');
		await refused((await bytesOf(journalOf(eventful()))).slice(0, -40), 'no ZIP archive');
		await refused((await bytesOf(journalOf(eventful()))).slice(40), /damaged|no ZIP/);
	});
	it('an .eln of another program, and one of a newer version', async () => {
		await refused(await changed((files, root) => metadata(files, root, (graph) => void graph.splice(graph.findIndex((one) => String(one['@id']).endsWith('.journal.jsonl')), 1))), 'another program wrote');
		await refused(await changed((files, root) => metadata(files, root, (graph) => void (graph[0]!['version'] = '2.0'))), 'newer version (2.0)');
		await refused(await changed((files, root) => void (files[`${root}/ro-crate-metadata.json`] = Buffer.from('{'))), 'is no JSON');
		await refused(await changed((files, root) => void (files[`${root}/ro-crate-metadata.json`] = Buffer.from('[]'))), 'no graph');
	});
	it('a journal altered, with the old hash and with a new one', async () => {
		const alter = (files: Record<string, Uint8Array>) => {
			const name = path(files, '.journal.jsonl');
			files[name] = Buffer.from(Buffer.from(files[name]!).toString().replace('misheard', 'mishears'));
			return files[name]!;
		};
		await refused(await changed((files) => void alter(files)), 'do not fit the hash');
		await refused(
			await changed((files, root) => {
				const bytes = alter(files);
				metadata(files, root, (graph) => {
					const file = graph.find((one) => String(one['@id']).endsWith('.journal.jsonl'))!;
					Object.assign(file, { sha256: createHash('sha256').update(bytes).digest('hex') });
				});
			}),
			/journal breaks at event \d+: the event was altered/
		);
	});
	it('a listed file that is missing or has another size', async () => {
		await refused(await changed((files) => void delete files[path(files, 'events.csv')]), 'has no "');
		await refused(await changed((files) => void (files[path(files, 'events.csv')] = Buffer.from('x'))), 'the metadata says');
	});
	it.each([
		['../out.txt', 'leads out'], ['ROOT/../../out.txt', 'leads out'], ['/out.txt', 'leads out'], ['ROOT//x', 'leads out'], ['ROOT/./x', 'leads out'],
		['C:/out.txt', 'no file name may have'], ['ROOT\\..\\out.txt', 'no file name may have'], ['ROOT/a\u0000b', 'no file name may have'], ['other/x', '2 folders at its root']
	])('a name %j', async (name, reason) => refused(await changed((files, root) => void (files[name.replace('ROOT', root)] = Buffer.from('x'))), reason));
	it('two names that a disk may take for one', async () => {
		await refused(await changed((files, root) => void Object.assign(files, { [`${root}/a.txt`]: Buffer.from('1'), [`${root}/A.txt`]: Buffer.from('2') })), 'stands there twice');
		await refused(await changed((files, root) => void Object.assign(files, { [`${root}/é.txt`]: Buffer.from('1'), [`${root}/e\u0301.txt`]: Buffer.from('2') })), 'stands there twice');
	});
	it('the same name twice in the directory', async () => {
		const bytes = Buffer.from(await changed((files, root) => void Object.assign(files, { [`${root}/aa.txt`]: Buffer.from('1'), [`${root}/ab.txt`]: Buffer.from('2') })));
		for (let at = bytes.indexOf('/ab.txt'); at >= 0; at = bytes.indexOf('/ab.txt')) bytes[at + 2] = 0x61;
		await refused(bytes, 'stands there twice');
	});
	it('a link', async () => {
		const files = unzipSync(await bytesOf(journalOf(eventful())));
		const root = Object.keys(files)[0]!.split('/')[0]!;
		await refused(zipSync({ ...files, [`${root}/link`]: [Buffer.from('/etc/passwd'), { os: 3, attrs: (0o120777 << 16) >>> 0 }] }), 'is a link');
	});
	it('an encrypted entry', async () => {
		const bytes = Buffer.from(await changed(() => undefined));
		const at = bytes.lastIndexOf(Buffer.from('PK\u0001\u0002'));
		bytes[at + 8]! |= 1;
		await refused(bytes, /is encrypted|damaged/);
	});
});

describe('X17 bombs are refused before they take memory', () => {
	const peak = async (work: () => Promise<unknown>) => {
		(globalThis as { gc?: () => void }).gc?.();
		const before = process.memoryUsage().rss;
		let most = before;
		const watch = setInterval(() => (most = Math.max(most, process.memoryUsage().rss)), 5);
		await work();
		clearInterval(watch);
		return Math.max(most, process.memoryUsage().rss) - before;
	};
	/** Directory of `count` entries that say `size` bytes each, all pointing at one small body; sizes and counts as an attacker likes. */
	function forged({ count, size, packed = 10, told = count }: { count: number; size: number; packed?: number; told?: number }): Buffer {
		const name = (i: number) => `root/${String(i).padStart(7, '0')}`;
		const local = Buffer.alloc(30 + 12 + packed);
		local.writeUInt32LE(0x04034b50, 0);
		local.writeUInt16LE(8, 8);
		local.writeUInt16LE(12, 26);
		local.write(name(0), 30);
		const directory = Buffer.alloc(count * 58);
		for (let i = 0; i < count; i++) {
			const at = i * 58;
			directory.writeUInt32LE(0x02014b50, at);
			directory.writeUInt16LE(8, at + 10);
			directory.writeUInt32LE(packed, at + 20);
			directory.writeUInt32LE(size, at + 24);
			directory.writeUInt16LE(12, at + 28);
			directory.write(name(i), at + 46);
		}
		const end = Buffer.alloc(22);
		end.writeUInt32LE(0x06054b50, 0);
		end.writeUInt16LE(told & 0xffff, 8);
		end.writeUInt16LE(told & 0xffff, 10);
		end.writeUInt32LE(directory.length, 12);
		end.writeUInt32LE(local.length, 16);
		return Buffer.concat([local, directory, end]);
	}
	it('a million entries, told or hidden', async () => {
		const told = forged({ count: 1_000_000, size: 1 });
		expect(await peak(() => refused(told, /files; expected at most|directory has/))).toBeLessThan(150e6);
		const hidden = forged({ count: 1_000_000, size: 1, told: 5 });
		expect(await peak(() => refused(hidden, /directory has \d+ bytes/))).toBeLessThan(150e6);
	});
	it('entries that say to unpack to terabytes', async () => {
		expect(await peak(() => refused(forged({ count: 9_000, size: 0xfffffff0 }), 'unpacks to more than'))).toBeLessThan(150e6);
	});
	it('metadata and files that unpack to far more than they say, or to far more than they may', async () => {
		const zeros = new Uint8Array(300e6);
		const bomb = await changed((files, root) => void (files[`${root}/ro-crate-metadata.json`] = zeros));
		expect(await peak(() => refused(bomb, 'expected at most'))).toBeLessThan(150e6);
		const lying = Buffer.from(bomb);
		for (let at = lying.indexOf(Buffer.from('PK\u0001\u0002')); at >= 0; at = lying.indexOf(Buffer.from('PK\u0001\u0002'), at + 4)) if (lying.readUInt32LE(at + 24) === 300e6) lying.writeUInt32LE(1000, at + 24);
		expect(await peak(() => refused(lying, /unpacks to more than the 1000 bytes|damaged/))).toBeLessThan(150e6);
	}, 60_000);
});
