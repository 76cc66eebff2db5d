/**
 * Why a store refused or failed.
 * `no lock`: another tab writes, or the lock was released · `not next`: the event does not follow the journal's last one ·
 * `reopen first`: an append failed half-way, only a fresh `open` knows what is durable · `damaged`: the chain is broken,
 * nothing may be written over it · `another chain`: the run is here with other content · `full` / `denied`: the device
 * refuses · `unknown run` · `failed`: anything else, in the browser's words.
 */
export type StoreFaultCode = 'no lock' | 'not next' | 'reopen first' | 'damaged' | 'another chain' | 'full' | 'denied' | 'unknown run' | 'failed';

export class StoreFault extends Error {
	override readonly name = 'StoreFault';
	constructor(
		readonly code: StoreFaultCode,
		message: string
	) {
		super(message);
	}
}

const codes: Readonly<Record<string, StoreFaultCode>> = {
	QuotaExceededError: 'full',
	NotAllowedError: 'denied',
	SecurityError: 'denied'
};

/** Any thrown thing as a StoreFault; `doing` says what was tried. */
export function asStoreFault(thrown: unknown, doing: string): StoreFault {
	if (thrown instanceof StoreFault) return thrown;
	const { name, message } = thrown instanceof Error || thrown instanceof DOMException ? thrown : { name: '', message: String(thrown) };
	const code = codes[name] ?? 'failed';
	const why = code === 'full' ? "the device's storage is full" : code === 'denied' ? 'the browser denies storage' : `${name} ${message}`.trim();
	return new StoreFault(code, `${doing}: ${why}`);
}
