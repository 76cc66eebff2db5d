import type { Beat, JournalStore, Mend, OpenedJournal, RunListing, WriterLock } from '$lib/ports/journal-store';
import { beforeGenesis, type Head, lineOf, sha256OfBytes } from '$lib/record/chain';
import type { JournalEvent } from '$lib/run/events';
import type { LockKeeper } from '../locks/lock-keeper';
import { expectNext, expectSound, newPart } from '../next-in-chain';
import { listingOf, rowAfter } from '../run-row';
import { asStoreFault, StoreFault } from '../store-fault';
import type { DatabaseCopy, JournalCopy } from './copy';
import type { Marker } from './marker';
import { bytesOf, unite, type United } from './unite';

/** What this tab knows of a run it writes: where the chain ends and how long the journal is, or why nothing may be written. */
interface Standing {
	readonly head: Head;
	readonly bytes: number;
	readonly refusal: StoreFault | null;
}

export interface Copies {
	readonly database: DatabaseCopy | null;
	readonly file: JournalCopy | null;
	readonly locks: LockKeeper;
	readonly marker: Marker;
}

/** A journal store over a database and a file, or over one of them. An append resolves when every copy has it durably. */
export class TwoCopiesStore implements JournalStore {
	readonly copies: readonly ('database' | 'file')[];
	readonly #database: DatabaseCopy | null;
	readonly #all: readonly JournalCopy[];
	readonly #locks: LockKeeper;
	readonly #marker: Marker;
	readonly #standing = new Map<string, Standing>();
	readonly #held = new Map<string, WriterLock>();
	readonly #queues = new Map<string, Promise<unknown>>();

	constructor({ database, file, locks, marker }: Copies) {
		this.#database = database;
		this.#all = [database, file].filter((copy) => copy !== null);
		this.#locks = locks;
		this.#marker = marker;
		this.copies = this.#all.map(({ name }) => name);
	}

	/** Runs that any copy holds; one whose copies differ in length is opened, and so mended. */
	async list(): Promise<readonly RunListing[]> {
		const rows = new Map((await this.#database?.rows())?.map((row) => [row.run, row]));
		const sizes = await Promise.all(this.#all.map((copy) => copy.runs()));
		const listings: RunListing[] = [];
		for (const run of new Set(sizes.flatMap((size) => [...size.keys()]))) {
			const row = rows.get(run);
			if (row && sizes.every((size) => size.get(run) === row.bytes)) listings.push(listingOf(row));
			else {
				const { events } = await this.open(run);
				if (events.length) listings.push(listingOf(rowAfter(undefined, events, 0)));
			}
		}
		return listings;
	}

	/** Runs that this device once had and no copy holds any more. */
	async vanished(): Promise<readonly string[]> {
		const here = new Set((await Promise.all(this.#all.map((copy) => copy.runs()))).flatMap((size) => [...size.keys()]));
		return (await this.#marker.runs()).filter((run) => !here.has(run));
	}

	/** Throws StoreFault `unknown run` where no copy has it. Mends only with the writer's lock: its own, or one taken for the moment. */
	open(run: string): Promise<OpenedJournal> {
		return this.#inTurn(run, () => this.#open(run));
	}

	async #open(run: string): Promise<OpenedJournal> {
		const lock = this.#held.get(run) ?? (await this.#locks.take(run));
		try {
			const united = unite(await Promise.all(this.#all.map(async (copy) => ({ name: copy.name, text: await copy.read(run) }))));
			if (!united.events.length && !united.fault) throw new StoreFault('unknown run', `no journal of run ${run} is on this device`);
			const refusal = united.fault
				? new StoreFault('damaged', `the journal is broken at event ${united.fault.seq}: ${united.fault.reason}; nothing is written over it`)
				: lock ? await this.#mend(run, united) : new StoreFault('reopen first', `run ${run} was opened while another tab wrote it`);
			const last = united.events[united.events.length - 1];
			this.#standing.set(run, { head: last ?? beforeGenesis(run), bytes: united.bytes, refusal });
			const told = (await this.#database?.row(run))?.mends ?? united.repairs.map(({ mend }) => mend);
			return { events: united.events, mended: lock && !refusal ? told : [], fault: united.fault };
		} finally {
			if (!this.#held.has(run)) lock?.release();
		}
	}

	/** Brings poorer copies level, the database first. A device too full to mend can still be read: the refusal stands for later writes. */
	async #mend(run: string, { repairs, events }: United): Promise<StoreFault | null> {
		if (!repairs.length) return null;
		const mends: readonly Mend[] = repairs.map(({ mend }) => mend);
		try {
			for (const copy of this.#all) {
				const found = repairs.find((repair) => repair.copy === copy.name);
				if (found) await copy.repair(run, found.repair, events, mends);
				else if (copy === this.#database) await this.#database.noteMends(run, mends);
			}
			return null;
		} catch (thrown) {
			return asStoreFault(thrown, `mending run ${run}`);
		}
	}

	lock(run: string): Promise<WriterLock | null> {
		return this.#inTurn(run, () => this.#lock(run));
	}

	async #lock(run: string): Promise<WriterLock | null> {
		const taken = this.#held.has(run) ? null : await this.#locks.take(run);
		if (!taken) return null;
		// another tab may have written since this one read
		this.#standing.delete(run);
		const lock: WriterLock = {
			run,
			release: () => {
				if (this.#held.get(run) !== lock) return;
				this.#held.delete(run);
				this.#standing.delete(run);
				// what still waits in line is written before another tab may write
				const letGo = async () => {
					await Promise.allSettled(this.#all.map((copy) => copy.letGo(run)));
					taken.release();
				};
				void this.#inTurn(run, letGo);
			}
		};
		this.#held.set(run, lock);
		return lock;
	}

	append(run: string, events: readonly JournalEvent[], lock: WriterLock): Promise<void> {
		return this.#inTurn(run, () => {
			if (lock.run !== run || this.#held.get(run) !== lock) throw new StoreFault('no lock', `run ${run} is written by someone else`);
			return this.#write(run, events);
		});
	}

	async #write(run: string, events: readonly JournalEvent[]): Promise<void> {
		const standing = this.#standing.get(run) ?? (await this.#standingOf(run));
		if (standing.refusal) throw standing.refusal;
		expectNext(standing.head, events);
		if (!events.length) return;
		const lines = events.map(lineOf);
		if (standing.head.seq < 0) await this.#marker.add(run);
		const outcomes = await Promise.allSettled(this.#all.map((copy) => copy.append(run, events, lines, standing.bytes)));
		const failed = outcomes.find((outcome) => outcome.status === 'rejected');
		if (failed) {
			const fault = asStoreFault(failed.reason, `writing event ${events[0]!.seq} of run ${run}`);
			this.#standing.set(run, { ...standing, refusal: new StoreFault('reopen first', `${fault.message}; the run must be opened anew`) });
			throw fault;
		}
		this.#standing.set(run, { head: events[events.length - 1]!, bytes: standing.bytes + bytesOf(lines), refusal: null });
	}

	async #standingOf(run: string): Promise<Standing> {
		const known = (await Promise.all(this.#all.map((copy) => copy.read(run)))).some((text) => text !== '');
		if (known) await this.#open(run);
		return this.#standing.get(run) ?? { head: beforeGenesis(run), bytes: 0, refusal: null };
	}

	/** The longest copy. A file comes from a worker: the database's lines, put together on the page's thread, are left alone where its row says that they are no longer. */
	async bytes(run: string): Promise<Uint8Array> {
		let longest: Uint8Array = new Uint8Array();
		for (const copy of this.#all.toReversed()) {
			if (copy === this.#database && longest.length > 0 && (await this.#database.row(run))?.bytes === longest.length) continue;
			const found = await copy.bytes(run);
			if (found.length > longest.length) longest = found;
		}
		if (!longest.length) throw new StoreFault('unknown run', `no journal of run ${run} is on this device`);
		return longest;
	}

	async bring(events: readonly JournalEvent[]): Promise<void> {
		expectSound(events);
		const run = events[0]!.run;
		await this.#withLock(run, async () => {
			const { head, refusal } = await this.#standingOf(run);
			if (refusal) throw refusal;
			const here = head.seq < 0 ? [] : (await this.#open(run)).events;
			await this.#write(run, newPart(here, events));
		});
	}

	/** Does something to a run that nobody else may be writing meanwhile. */
	async #withLock(run: string, what: () => Promise<void>): Promise<void> {
		const mine = this.#held.get(run);
		const lock = mine ?? (await this.lock(run));
		if (!lock) throw new StoreFault('no lock', `run ${run} is being written in another tab; end it there first`);
		try {
			await this.#inTurn(run, what);
		} finally {
			if (!mine) lock.release();
		}
	}

	async putAttachment(run: string, sha256: string, bytes: Uint8Array, type: string): Promise<void> {
		const found = sha256OfBytes(bytes);
		if (found !== sha256) throw new StoreFault('damaged', `the attachment's hash is ${found}; ${sha256} was given`);
		await this.#keeper().putAttachment(run, sha256, bytes, type).catch((thrown: unknown) => {
			throw asStoreFault(thrown, `writing an attachment of ${bytes.length} bytes`);
		});
	}

	/** Looks in every copy; throws StoreFault `damaged` if the bytes no longer fit their hash. */
	async attachment(run: string, sha256: string): Promise<{ bytes: Uint8Array; type: string } | null> {
		for (const copy of [...this.#all].reverse()) {
			const found = await copy.attachment(run, sha256);
			if (!found) continue;
			if (sha256OfBytes(found.bytes) === sha256) return found;
			throw new StoreFault('damaged', `the attachment ${sha256} was altered: its bytes do not fit its hash`);
		}
		return null;
	}

	beat = (run: string, beat: Beat): Promise<void> => this.#keeper().beat(run, beat);

	async lastBeat(run: string): Promise<Beat | null> {
		const beats = await Promise.all(this.#all.map((copy) => copy.lastBeat(run)));
		return beats.filter((beat) => beat !== null).sort((a, b) => Date.parse(a.at) - Date.parse(b.at)).pop() ?? null;
	}

	remove(run: string): Promise<void> {
		return this.#withLock(run, async () => {
			await this.#marker.drop(run);
			this.#standing.delete(run);
			for (const copy of this.#all) await copy.remove(run);
		});
	}

	/** Attachments and signs of life go to the file copy where there is one: the fewer database writes, the fewer torn logs. */
	#keeper(): JournalCopy {
		const keeper = this.#all[this.#all.length - 1];
		if (!keeper) throw new StoreFault('denied', 'this device offers no storage');
		return keeper;
	}

	/** One thing at a time a run, in the order asked. */
	#inTurn<T>(run: string, what: () => Promise<T>): Promise<T> {
		const before = this.#queues.get(run) ?? Promise.resolve();
		const turn = before.then(what, what);
		this.#queues.set(run, turn);
		return turn;
	}
}
