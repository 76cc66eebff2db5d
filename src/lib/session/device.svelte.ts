import { getContext, setContext } from 'svelte';
import type { Camera, Recorder } from '$lib/ports/camera';
import type { Chance } from '$lib/ports/chance';
import type { Clock } from '$lib/ports/clock';
import type { Ears } from '$lib/ports/ears';
import type { Enrolments } from '$lib/ports/enrolments';
import type { Editions } from '$lib/ports/editions';
import type { JournalStore, RunListing, StorageReport } from '$lib/ports/journal-store';
import type { HandingOver } from '$lib/ports/handing-over';
import type { InventedRuns } from '$lib/ports/invented-runs';
import type { LogFile } from '$lib/ports/log-file';
import type { Keys } from '$lib/ports/keys';
import type { Mouth } from '$lib/ports/mouth';
import type { Signer, Verify } from '$lib/ports/signer';
import type { SettingsStore, Wakefulness } from '$lib/ports/settings';
import type { Takes } from '$lib/ports/takes';
import type { Timekeeper } from '$lib/ports/timekeeper';
import type { Update } from '$lib/ports/update';

/** Everything of this device, behind ports; put together once by the layout. */
export interface DevicePorts {
	readonly store: JournalStore;
	readonly report: StorageReport;
	/** The device's key; null where the browser can make or keep none. */
	readonly signer: Signer | null;
	/** A person's own key on this device, made at first use; null as above. */
	signerOf(person: string): Promise<Signer | null>;
	readonly verify: Verify;
	readonly clock: Clock;
	readonly chance: Chance;
	readonly editions: Editions;
	readonly keys: Keys;
	readonly mouth: Mouth;
	readonly camera: Camera;
	readonly recorder: Recorder;
	readonly wake: Wakefulness;
	readonly settings: SettingsStore;
	readonly update: Update;
	readonly handingOver: HandingOver;
	/** The file that runs are appended to; null where the browser can't keep a file open. */
	readonly logFile: LogFile | null;
	readonly inventedRuns: InventedRuns;
	readonly timekeeper: Timekeeper;
	/** The browser's own engine; null where it has none. */
	readonly browserEars: Ears | null;
	/** The project's recogniser; null where it is not installed. */
	readonly ownEars: Ears | null;
	/** What operators' words look like. */
	readonly enrolments: Enrolments;
	/** Makes takes of words; null where the project's recogniser is not installed. */
	readonly takes: Takes | null;
}

export interface Device extends DevicePorts {
	readonly runs: readonly RunListing[];
	/** A newer version waits. */
	readonly updateReady: boolean;
	refresh(): Promise<void>;
}

export function createDevice(ports: DevicePorts): Device {
	let runs = $state.raw<readonly RunListing[]>([]);
	let updateReady = $state(false);
	ports.update.onready(() => (updateReady = true));
	return {
		...ports,
		get runs() {
			return runs;
		},
		get updateReady() {
			return updateReady;
		},
		async refresh() {
			runs = (await ports.store.list()).toSorted((a, b) => (a.lastAt < b.lastAt ? 1 : -1));
		}
	};
}

const key = Symbol('device');
export const provideDevice = (device: Device) => setContext(key, device);
/** Throws where no layout has provided it. */
export function useDevice(): Device {
	const found = getContext<Device | undefined>(key);
	if (!found) throw new Error('the device was not provided by a layout above');
	return found;
}
