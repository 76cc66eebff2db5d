import type { Rates } from '$lib/timing/charts/sign-off';
import { type Limits, type SignOffSeries, signOffSeries } from '$lib/timing/charts/sign-off-series';
import type { Device } from './device.svelte';
import type { StageRecord } from './person-record';

/** The question put to everybody alike: which rates of failure are told apart, and the limits that follow from them. */
export interface SignOff {
	readonly rates: Rates;
	/** Null while they are being simulated. */
	readonly limits: Limits | null;
	readonly fault: string | null;
	/** Keeps them on this device. Rates that cannot be told apart are refused, and `fault` says why. */
	set(rates: Rates): void;
	/** A person's standing at a stage; null while limits are missing. */
	of(stage: StageRecord): SignOffSeries | null;
}

const KEY = 'sign-off-rates';
/** One attempt in ten that is not well done is accepted, four in ten are not: our choice, to be changed by whoever signs off. */
const USUAL: Rates = { accepted: 0.1, unaccepted: 0.4 };
/** A limit is wrong in at most one of ten series of so many attempts. */
const MOST_FALSE = 0.1;
const ATTEMPTS = 20;

export function createSignOff({ settings, timekeeper }: Pick<Device, 'settings' | 'timekeeper'>): SignOff {
	let rates = $state.raw<Rates>(USUAL);
	let limits = $state.raw<Limits | null>(null);
	let fault = $state<string | null>(null);

	async function limitsFor(wanted: Rates): Promise<void> {
		rates = wanted;
		limits = null;
		fault = null;
		try {
			const [learning, watched] = await Promise.all([timekeeper.limit('lc-cusum', wanted, MOST_FALSE, ATTEMPTS), timekeeper.limit('cusum', wanted, MOST_FALSE, ATTEMPTS)]);
			if (rates === wanted) limits = { learning, watched };
		} catch (thrown) {
			if (rates === wanted) fault = thrown instanceof Error ? thrown.message : String(thrown);
		}
	}
	void settings.load<Rates>(KEY).then((kept) => limitsFor(kept ?? USUAL));

	return {
		get rates() {
			return rates;
		},
		get limits() {
			return limits;
		},
		get fault() {
			return fault;
		},
		set(wanted) {
			void limitsFor(wanted);
			void settings.save(KEY, wanted);
		},
		of: (stage) => limits && signOffSeries(stage.attempts.map(({ how }) => how === 'well'), rates, limits)
	};
}
