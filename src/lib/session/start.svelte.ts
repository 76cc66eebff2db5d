import type { Edition } from '$lib/procedure/edition';
import type { EditionEntry } from '$lib/ports/editions';
import { sha256Hex } from '$lib/record/chain';
import { canonical } from '$lib/record/canonical';
import { beginRun, type Begun, leftBehind, type LeftBehind, type Missing, proposedParts } from '$lib/run/begin';
import type { StatedParts } from '$lib/run/events';
import { foldAll } from '$lib/run/fold';
import type { Device } from './device.svelte';
import { instrumentUsed } from './instrument';
import { localStamp, nextTimeOfDay } from './moments';
import type { Preferences } from './preferences.svelte';
import { beginWalk } from './walk.svelte';

/** What is typed or chosen, bound to the form. */
export interface StartFields {
	person: string;
	supervisor: string;
	sample: string;
	project: string;
	/** "hh:mm", or empty for no booking. */
	bookingEnd: string;
	/** Step to begin at; empty: the first. */
	at: string;
}

/** What is filled in before a run begins. */
export interface StartForm {
	readonly entries: readonly EditionEntry[];
	readonly edition: Edition | null;
	readonly left: LeftBehind | null;
	/** Who left it, and when, for the sentence on the screen. */
	readonly leftBy: { readonly person: string; readonly at: string } | null;
	readonly proposed: ReturnType<typeof proposedParts>;
	readonly missing: readonly Missing[];
	readonly fields: StartFields;
	readonly settings: Readonly<Record<string, string | number>>;
	set(setting: string, value: string | number): void;
	choose(id: string): Promise<void>;
	state(part: string, condition: string): void;
	/** Many at once: they were looked at together. */
	stateAll(parts: Readonly<Record<string, string>>): void;
	explain(part: string, text: string): void;
	/** Begins and returns the run's id; null while something is missing. */
	begin(): Promise<string | null>;
}

export function createStart(device: Device, preferences: Preferences): StartForm {
	let entries = $state.raw<readonly EditionEntry[]>([]);
	let edition = $state.raw<Edition | null>(null);
	let left = $state.raw<LeftBehind | null>(null);
	let leftBy = $state.raw<StartForm['leftBy']>(null);
	let stated = $state.raw<StatedParts>({});
	let explained = $state.raw<Readonly<Record<string, string>>>({});
	let settings = $state.raw<Readonly<Record<string, string | number>>>({});
	const fields = $state<StartFields>({ person: preferences.values.person, supervisor: '', sample: '', project: '', bookingEnd: '', at: '' });

	const tried = $derived.by<Begun>(() => {
		if (!edition) return { missing: [] };
		const end = fields.bookingEnd ? nextTimeOfDay(fields.bookingEnd, device.clock.wallMs()) : null;
		return beginRun({
			edition,
			editionHash: sha256Hex(canonical(edition)),
			key: device.signer?.key ?? null,
			person: fields.person,
			supervisor: fields.supervisor.trim() || null,
			sample: fields.sample.trim(),
			project: fields.project.trim(),
			booking: end === null ? null : { end: localStamp(end) },
			settings,
			instrument: instrumentUsed(preferences.values),
			left,
			stated,
			explained,
			...(fields.at ? { at: fields.at } : {}),
			zone: device.clock.zone
		});
	});

	/** Parts of the newest run of any edition on this device: the instrument is the same. */
	async function look(): Promise<void> {
		const newest = device.runs.find((run) => run.ended !== null && !run.invented);
		if (!newest) return;
		const { events } = await device.store.open(newest.run);
		const end = events[events.length - 1];
		if (!end) return;
		left = leftBehind(foldAll(events), end.hash);
		leftBy = { person: newest.person, at: newest.lastAt };
	}

	const form: StartForm = {
		get entries() {
			return entries;
		},
		get edition() {
			return edition;
		},
		get left() {
			return left;
		},
		get leftBy() {
			return leftBy;
		},
		get proposed() {
			return edition ? proposedParts(edition, left, stated) : {};
		},
		get missing() {
			return tried.missing ?? [];
		},
		get settings() {
			return settings;
		},
		fields,
		set(setting, value) {
			settings = { ...settings, [setting]: value };
			preferences.set({ instrument: { ...preferences.values.instrument, [setting]: value } });
		},
		async choose(id) {
			edition = await device.editions.load(id);
			stated = {};
			explained = {};
			fields.at = '';
			const known = edition.settings.map((setting) => setting.id);
			settings = Object.fromEntries(Object.entries(preferences.values.instrument).filter(([name]) => known.includes(name)));
		},
		state: (part, condition) => void (stated = { ...stated, [part]: { is: condition, known: 'stated' } }),
		stateAll: (parts) => void (stated = { ...stated, ...Object.fromEntries(Object.entries(parts).map(([part, is]) => [part, { is, known: 'seen' as const }])) }),
		explain: (part, text) => void (explained = { ...explained, [part]: text }),
		async begin() {
			const begun = tried;
			if (!begun.drafts) return null;
			const run = device.chance.id();
			await beginWalk(run, begun.drafts, fields.person, { store: device.store, clock: device.clock, device: preferences.values.device, signer: device.signer, onanswer: () => {} });
			preferences.set({ person: fields.person });
			await device.refresh();
			return run;
		}
	};

	void device.editions.list().then(async (list) => {
		entries = list;
		await look();
		if (list[0]) await form.choose(list[0].id);
	});
	return form;
}
