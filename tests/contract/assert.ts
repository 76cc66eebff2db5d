import { StoreFault, type StoreFaultCode } from '$lib/adapters/store-fault';
import { canonical } from '$lib/record/canonical';

/** Assertions that need no test runner: contract cases run in a browser's page too. */
export function holds<T>(value: T, sentence: string): asserts value is NonNullable<T> {
	if (value === null || value === undefined || (value as unknown) === false) throw new Error(`does not hold: ${sentence}`);
}

export function same(found: unknown, expected: unknown): void {
	const [a, b] = [found, expected].map((value) => (value === undefined ? 'undefined' : canonical(value)));
	if (a !== b) throw new Error(`found ${a}\nexpected ${b}`);
}

export async function refuses(what: () => Promise<unknown>, code: StoreFaultCode): Promise<StoreFault> {
	try {
		await what();
	} catch (thrown) {
		if (thrown instanceof StoreFault && thrown.code === code) return thrown;
		throw thrown;
	}
	throw new Error(`was not refused; expected "${code}"`);
}
