import * as m from '$lib/paraglide/messages';
import { createDevice } from '$lib/session/device.svelte';
import { createPreferences } from '$lib/session/preferences.svelte';
import type { LayoutLoad } from './$types';
import { thisDevice } from './this-device';

// Everything is computed on the device; the server only hands out files.
export const ssr = false;
export const prerender = false;

export const load: LayoutLoad = async () => {
	const device = createDevice(await thisDevice('en'));
	const preferences = await createPreferences(device.settings, () => m.device_new_name({ number: device.chance.id().slice(0, 4) }));
	await device.refresh();
	return { device, preferences };
};
