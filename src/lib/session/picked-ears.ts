import type { Ears } from '$lib/ports/ears';
import type { Device } from './device.svelte';
import type { Preferences } from './preferences.svelte';

/** The ears that this device's settings name; null where listening is off or they are missing. */
export function pickedEars(device: Device, { values }: Preferences): Ears | null {
	if (values.ears === 'own') return device.ownEars;
	return values.ears === 'browser' ? device.browserEars : null;
}
