import { createStore, get, set } from 'idb-keyval'; // tiny and well kept; settings need no strict durability
import type { SettingsStore } from '$lib/ports/settings';

export function idbSettings(): SettingsStore {
	const store = createStore('handrail-settings', 'values');
	return { load: (key) => get(key, store), save: (key, value) => set(key, value, store) };
}
