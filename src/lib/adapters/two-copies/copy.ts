import type { Beat, Mend } from '$lib/ports/journal-store';
import type { JournalEvent } from '$lib/run/events';
import type { RunRow } from '../run-row';

/** How a poorer copy is brought level: `keepLines` of what it has stay, `lines` follow, what stood there is set aside if it was damaged. */
export interface Repair {
	readonly keepLines: number;
	readonly keepBytes: number;
	readonly lines: readonly string[];
	readonly setAside: boolean;
}

/** One durable copy of the journals of a device. Every write resolves only when it is durable; a broken one rejects. */
export interface JournalCopy {
	readonly name: 'database' | 'file';
	/** Runs kept here, with the length of each journal in bytes. */
	runs(): Promise<ReadonlyMap<string, number>>;
	/** The journal's text as it is kept, sound or not; empty where there is none. */
	read(run: string): Promise<string>;
	/** The same as raw bytes: a damaged file is not always UTF-8. */
	bytes(run: string): Promise<Uint8Array>;
	/** Writes lines behind exactly `atBytes` bytes; rejects where the copy has another length. */
	append(run: string, events: readonly JournalEvent[], lines: readonly string[], atBytes: number): Promise<void>;
	repair(run: string, repair: Repair, events: readonly JournalEvent[], mends: readonly Mend[]): Promise<void>;
	/** Lets go of what was held open for writing. */
	letGo(run: string): Promise<void>;
	remove(run: string): Promise<void>;
	putAttachment(run: string, sha256: string, bytes: Uint8Array, type: string): Promise<void>;
	attachment(run: string, sha256: string): Promise<{ bytes: Uint8Array; type: string } | null>;
	beat(run: string, beat: Beat): Promise<void>;
	lastBeat(run: string): Promise<Beat | null>;
}

/** The database keeps, beside the lines, what lists the runs and what was mended. */
export interface DatabaseCopy extends JournalCopy {
	readonly name: 'database';
	rows(): Promise<readonly RunRow[]>;
	row(run: string): Promise<RunRow | undefined>;
	/** Writes down mends before they are made, so that a crash in between leaves them told. */
	noteMends(run: string, mends: readonly Mend[]): Promise<void>;
}
