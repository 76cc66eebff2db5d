import { getContext, setContext } from 'svelte';
import type { SettingsStore } from '$lib/ports/settings';
import { type InstrumentKept, untriedInstrument } from './instrument';

/** What a person sets on this device; not part of any journal. */
export interface PreferenceValues {
	/** CSS pixels per millimetre, from the bank-card calibration; null until it was done. */
	pxPerMm: number | null;
	/** Distance from eye to screen. */
	distanceM: number;
	far: boolean;
	theme: 'dim' | 'daylight';
	wording: 'full' | 'short';
	speak: boolean;
	earcons: boolean;
	ears: 'off' | 'browser' | 'own';
	/** KeyboardEvent.key of the learned pedal; null: none. */
	pedalKey: string | null;
	/** How long the scanning ring rests on each choice. */
	scanMs: number;
	person: string;
	device: string;
	/** Cautions read on first use. */
	cautionsRead: boolean;
	/** Instrument settings by edition setting id, taken over into each new run. */
	instrument: Record<string, string | number>;
	/** What the moves know of this instrument: signs, views, limits. */
	moves: InstrumentKept;
}

export const defaultPreferences: PreferenceValues = {
	pxPerMm: null,
	distanceM: 0.7,
	far: false,
	theme: 'dim',
	wording: 'full',
	speak: true,
	earcons: true,
	ears: 'off',
	pedalKey: 'PageDown',
	scanMs: 1400,
	person: '',
	device: '',
	cautionsRead: false,
	instrument: {},
	moves: untriedInstrument
};

export interface Preferences {
	readonly values: PreferenceValues;
	/** Sets and keeps values. */
	set(change: Partial<PreferenceValues>): void;
}

const KEY = 'preferences';

/** Loads what was kept; `newDeviceName` names this device on first use. */
export async function createPreferences(store: SettingsStore, newDeviceName: () => string): Promise<Preferences> {
	const kept = await store.load<Partial<PreferenceValues>>(KEY);
	let values = $state.raw<PreferenceValues>({ ...defaultPreferences, ...kept });
	const set = (change: Partial<PreferenceValues>) => {
		values = { ...values, ...change };
		void store.save(KEY, values);
	};
	if (values.device === '') set({ device: newDeviceName() });
	return {
		get values() {
			return values;
		},
		set
	};
}

const key = Symbol('preferences');
export const providePreferences = (preferences: Preferences) => setContext(key, preferences);
/** Throws where no layout has provided them. */
export function usePreferences(): Preferences {
	const found = getContext<Preferences | undefined>(key);
	if (!found) throw new Error('preferences were not provided by a layout above');
	return found;
}
