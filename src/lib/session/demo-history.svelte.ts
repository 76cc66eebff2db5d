import type { Device } from './device.svelte';

/** Invented runs on this device: brought in and taken away as a whole, a run at a time. */
export interface DemoHistory {
	/** What goes on now; null: nothing. */
	readonly doing: 'loading' | 'removing' | null;
	readonly place: number;
	readonly of: number;
	readonly fault: string | null;
	load(): Promise<void>;
	remove(): Promise<void>;
	/** Stops after the run in hand; what has been done stays done. */
	cancel(): void;
}

export function createDemoHistory(device: Pick<Device, 'store' | 'inventedRuns' | 'runs' | 'refresh'>): DemoHistory {
	let doing = $state<DemoHistory['doing']>(null);
	let place = $state(0);
	let of = $state(0);
	let fault = $state<string | null>(null);
	let stopped = false;

	async function during(what: 'loading' | 'removing', work: () => Promise<void>): Promise<void> {
		if (doing) return;
		doing = what;
		place = 0;
		of = 0;
		fault = null;
		stopped = false;
		try {
			await work();
		} catch (thrown) {
			fault = thrown instanceof Error ? thrown.message : String(thrown);
		} finally {
			await device.refresh();
			doing = null;
		}
	}

	return {
		get doing() {
			return doing;
		},
		get place() {
			return place;
		},
		get of() {
			return of;
		},
		get fault() {
			return fault;
		},
		load: () =>
			during('loading', async () => {
				for await (const run of device.inventedRuns.runs()) {
					if (stopped) return;
					await device.store.bring(run.events);
					place = run.place;
					of = run.of;
				}
			}),
		remove: () =>
			during('removing', async () => {
				const invented = device.runs.filter((run) => run.invented);
				of = invented.length;
				for (const { run } of invented) {
					if (stopped) return;
					await device.store.remove(run);
					place++;
				}
			}),
		cancel: () => void (stopped = true)
	};
}
