import type { JournalEvent } from '$lib/run/events';

/** A run as the store lists it, without opening it. */
export interface RunListing {
	readonly run: string;
	readonly count: number;
	/** `at` of the first and last event. */
	readonly begunAt: string;
	readonly lastAt: string;
	/** Id of the edition that is walked. */
	readonly edition: string;
	readonly title: string;
	readonly person: string;
	readonly step: string;
	readonly ended: 'complete' | 'aborted' | null;
	readonly invented: boolean;
}

export interface OpenedJournal {
	readonly events: readonly JournalEvent[];
	/** What was found poorer and mended, in plain sentences with message keys left to the screen. */
	readonly mended: readonly Mend[];
	/** Set if no copy holds a sound chain to the end: what stands in `events` is the sound prefix. */
	readonly fault: { readonly seq: number; readonly reason: string } | null;
}

export interface Mend {
	readonly copy: 'database' | 'file';
	readonly what: 'lost' | 'behind' | 'damaged' | 'ahead';
	readonly fromSeq: number;
	readonly events: number;
}

/**
 * Keeps journals durably. `append` resolves only when the event is durable in every copy the device offers; nothing is
 * shown as done before. One writer a run: `append` refuses without the writer's lock.
 */
export interface JournalStore {
	/** Copies this device offers; fewer than two is told on the screen. */
	readonly copies: readonly ('database' | 'file')[];
	list(): Promise<readonly RunListing[]>;
	open(run: string): Promise<OpenedJournal>;
	/** Takes the writer's lock; null if another tab holds it. */
	lock(run: string): Promise<WriterLock | null>;
	append(run: string, events: readonly JournalEvent[], lock: WriterLock): Promise<void>;
	/** The bytes of the journal file, sound or not, for saving elsewhere. */
	bytes(run: string): Promise<Uint8Array>;
	/** Brings in a journal from a file; refuses a run that is here with another chain. */
	bring(events: readonly JournalEvent[]): Promise<void>;
	putAttachment(run: string, sha256: string, bytes: Uint8Array, type: string): Promise<void>;
	attachment(run: string, sha256: string): Promise<{ bytes: Uint8Array; type: string } | null>;
	/** A sign of life, not durable at once: bounds what a crash leaves unmeasured. */
	beat(run: string, beat: Beat): Promise<void>;
	lastBeat(run: string): Promise<Beat | null>;
	remove(run: string): Promise<void>;
}

export interface Beat {
	readonly at: string;
	readonly mono: number;
	readonly boot: string;
}

export interface WriterLock {
	readonly run: string;
	release(): void;
}

/** What was found about the device's storage before a run begins. */
export interface StorageReport {
	readonly copies: readonly ('database' | 'file')[];
	readonly persisted: boolean | null;
	/** Bytes free to this app, where the browser says. */
	readonly freeBytes: number | null;
	readonly problems: readonly ('no database' | 'no file copy' | 'not persistent' | 'nearly full' | 'private mode' | 'earlier journals lost')[];
}
