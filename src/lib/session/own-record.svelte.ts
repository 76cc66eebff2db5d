import type { SettingsStore } from '$lib/ports/settings';
import type { ReadJournal } from '$lib/record/read-journal';

const KEY = 'record template';

/** The lab's own template; null where none was kept. */
export const savedTemplate = async (settings: SettingsStore): Promise<string | null> => (await settings.load<string>(KEY)) ?? null;

/** A template at work: edited, shown with a run at each change, kept on this device. */
export interface OwnRecord {
	readonly template: string;
	/** What the run says by it; the last good one while the template is at fault. */
	readonly preview: string;
	readonly fault: string | null;
	readonly kept: boolean;
	write(template: string): Promise<void>;
	beginAnew(): Promise<void>;
}

export function createOwnRecord(saved: string | null, journal: ReadJournal | null, settings: SettingsStore): OwnRecord {
	let template = $state(saved ?? '');
	let preview = $state('');
	let fault = $state<string | null>(null);
	let kept = $state(saved !== null);
	let newest = 0;

	async function show(): Promise<void> {
		if (!journal) return;
		const mine = ++newest;
		const { renderTemplate, TemplateFault } = await import('$lib/record/template');
		try {
			const made = await renderTemplate(template, journal);
			// an older, slower one must not stand over a newer
			if (mine === newest) [preview, fault] = [made, null];
		} catch (thrown) {
			if (!(thrown instanceof TemplateFault)) throw thrown;
			if (mine === newest) fault = thrown.message;
		}
	}

	async function write(next: string): Promise<void> {
		template = next;
		kept = false;
		await show();
		if (fault !== null || template !== next) return;
		await settings.save(KEY, next);
		kept = true;
	}

	const record: OwnRecord = {
		get template() {
			return template;
		},
		get preview() {
			return preview;
		},
		get fault() {
			return fault;
		},
		get kept() {
			return kept;
		},
		write,
		beginAnew: async () => write((await import('$lib/record/template')).FIRST_TEMPLATE)
	};
	if (saved === null) void record.beginAnew();
	else void show();
	return record;
}
