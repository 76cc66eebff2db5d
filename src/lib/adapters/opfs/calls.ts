import type { StoreFaultCode } from '../store-fault';
import type { JournalFiles } from './journal-files';

/** What the page asks of the worker that keeps the journal files, and what comes back. */
export type FileCalls = { readonly [K in keyof JournalFiles]: JournalFiles[K] };

export interface FileCall<K extends keyof FileCalls = keyof FileCalls> {
	readonly id: number;
	readonly call: K;
	readonly args: Parameters<FileCalls[K]>;
}

export type FileAnswer =
	| { readonly id: number; readonly result: unknown }
	| { readonly id: number; readonly fault: { readonly code: StoreFaultCode; readonly message: string } };
