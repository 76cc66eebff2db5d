/**
 * The standard lifecycle of IEEE 1849's lifecycle extension, as far as it is used: from each state the transitions that may
 * follow. From memory: of the standard's extensions no copy with its figures was at hand.
 */
const standard: Readonly<Record<string, Readonly<Record<string, string>>>> = {
	ready: { start: 'running', manualskip: 'done', withdraw: 'done', pi_abort: 'done' },
	running: { suspend: 'suspended', complete: 'done', ate_abort: 'done', pi_abort: 'done' },
	suspended: { resume: 'running', ate_abort: 'done', pi_abort: 'done' },
	done: {}
};

/** The first event that may not follow in its instance, in words; null: all may. */
export function lifecycleFault(events: readonly { readonly instance: string; readonly transition: string }[]): string | null {
	const states = new Map<string, string>();
	for (const { instance, transition } of events) {
		const state = states.get(instance) ?? 'ready';
		const next = standard[state]?.[transition];
		if (next === undefined) return `${transition} after ${state} in ${instance}`;
		states.set(instance, next);
	}
	return null;
}
