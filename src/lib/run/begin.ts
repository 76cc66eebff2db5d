import type { InstrumentUsed } from '$lib/metrology/instrument';
import { holds, unmet } from '$lib/procedure/condition';
import type { Condition, ConditionId, Edition, PartId, StepPath } from '$lib/procedure/edition';
import type { Booking, Draft, EventData, Knowledge, StatedParts } from './events';
import type { RunState } from './state';

/** What the last run on this instrument left: its parts, known or not, and the head of its chain. */
export interface LeftBehind {
	readonly parts: Readonly<Record<PartId, ConditionId>>;
	/** Head hash of that run's journal. */
	readonly head: string;
	/** It was walked to its end: what every visit begins anew (sample, grid) is then no contradiction. */
	readonly complete?: boolean;
}

/** What a run is begun with. */
export interface Beginning {
	readonly edition: Edition;
	readonly editionHash: string;
	readonly key: EventData['begun']['key'];
	readonly person: string;
	readonly supervisor?: string | null;
	readonly sample?: string;
	readonly project?: string;
	readonly booking?: Booking | null;
	/** Absent ones take their defaults. */
	readonly settings?: EventData['begun']['settings'];
	/** What the guide goes by of the instrument. */
	readonly instrument?: InstrumentUsed;
	readonly left: LeftBehind | null;
	/** What was looked at or said now; goes before what the last run left. */
	readonly stated: StatedParts;
	/** Where the walk begins; absent: at the edition's first step. */
	readonly at?: StepPath;
	readonly zone: string;
	readonly invented?: boolean;
	/** Answers to contradictions between what the last run left and what is seen now, by part. */
	readonly explained?: Readonly<Record<PartId, string>>;
}

/** Why a run cannot begin so yet: everything at once, so that a screen can ask for it in one go. */
export type Missing =
	| { readonly key: 'noSuchStep'; readonly step: StepPath }
	/** A part of which nothing is known: which conditions a run may begin from. */
	| { readonly key: 'partUnknown'; readonly part: PartId; readonly choices: readonly ConditionId[] }
	/** A condition from which a run does not begin at the first step. */
	| {
			readonly key: 'partNotReady';
			readonly part: PartId;
			readonly is: ConditionId;
			readonly choices: readonly ConditionId[];
	  }
	/** Seen otherwise than the last run left it: what happened between? */
	| { readonly key: 'contradiction'; readonly part: PartId; readonly left: ConditionId; readonly seen: ConditionId }
	| { readonly key: 'requirement'; readonly step: StepPath; readonly unmet: readonly Condition[] }
	| { readonly key: 'invariant'; readonly invariant: string; readonly unmet: readonly Condition[] }
	| { readonly key: 'setting'; readonly setting: string; readonly value: string | number }
	| { readonly key: 'noPerson' };

export type Begun =
	| { readonly drafts: readonly Draft[]; readonly missing?: undefined }
	| { readonly missing: readonly Missing[]; readonly drafts?: undefined };

/** The parts a run leaves: carried over to the next one. Null where it never began. */
export const leftBehind = (state: RunState, head: string): LeftBehind | null =>
	state.status === 'idle' ? null : { parts: state.parts, head, complete: state.status === 'complete' };

/** Whether a run begins from no other condition of the part: whoever prepares a visit has brought it to that. */
export const isOnlyStart = ({ parts }: Edition, part: PartId, is: ConditionId): boolean => {
	const start = parts.find(({ id }) => id === part)?.start ?? [];
	return start.length === 1 && start[0] === is;
};

/** What is proposed for each part: as stated, else as left; null where nothing is known or the part was lost sight of. */
export function proposedParts(
	edition: Edition,
	left: LeftBehind | null,
	stated: StatedParts
): Readonly<Record<PartId, { readonly is: ConditionId; readonly known: Knowledge } | null>> {
	return Object.fromEntries(
		edition.parts.map(({ id, conditions, unknown, start }) => {
			const said = stated[id];
			const was = left?.parts[id];
			const usable = (is: ConditionId | undefined): is is ConditionId =>
				is !== undefined && conditions.some((condition) => condition.id === is);
			if (said && usable(said.is)) return [id, said];
			if (usable(was) && (was !== unknown || start.includes(was))) return [id, { is: was, known: 'carried over' }];
			return [id, null];
		})
	);
}

/**
 * The first events of a run (`begun`, answers to contradictions, `stepEntered`), or all that is missing. In the middle of
 * a visit (R16) a part may be in any condition as long as the step's requirement and the invariants hold.
 */
export function beginRun(beginning: Beginning): Begun {
	const { edition, left, stated } = beginning;
	const at = beginning.at ?? edition.first;
	const settings = {
		...Object.fromEntries(edition.settings.map((setting) => [setting.id, setting.default])),
		...beginning.settings
	};
	const proposed = proposedParts(edition, left, stated);
	const parts: Record<PartId, ConditionId> = {};
	for (const [id, known] of Object.entries(proposed)) if (known) parts[id] = known.is;
	const missing: Missing[] = [
		...(beginning.person.trim() === '' ? [{ key: 'noPerson' as const }] : []),
		...wrongSettings(edition, settings),
		...unreadyParts(edition, parts, at === edition.first),
		...contradictions(beginning)
	];
	const require = edition.steps[at]?.require;
	// a trouble's step has no meaning without the step in which the trouble was called
	if (!require || edition.steps[at]?.stage.startsWith('trouble:')) missing.push({ key: 'noSuchStep', step: at });
	else if (!holds(require, parts, settings))
		missing.push({ key: 'requirement', step: at, unmet: unmet(require, parts, settings) });
	for (const invariant of edition.invariants)
		if ('always' in invariant && !holds(invariant.always, parts, settings))
			missing.push({ key: 'invariant', invariant: invariant.id, unmet: unmet(invariant.always, parts, settings) });
	if (missing.length > 0) return { missing };
	const begun: EventData['begun'] = {
		edition: { id: edition.id, version: edition.version, hash: beginning.editionHash, body: edition },
		key: beginning.key,
		person: beginning.person,
		supervisor: beginning.supervisor ?? null,
		sample: beginning.sample ?? '',
		project: beginning.project ?? '',
		booking: beginning.booking ?? null,
		settings,
		...(beginning.instrument === undefined ? {} : { instrument: beginning.instrument }),
		parts: proposed as StatedParts,
		at,
		after: left?.head ?? null,
		zone: beginning.zone,
		...(beginning.invented === undefined ? {} : { invented: beginning.invented })
	};
	const explained = Object.entries(beginning.explained ?? {});
	return {
		drafts: [
			{ kind: 'begun', data: begun },
			...explained.map(([about, answer]): Draft => ({ kind: 'choice', data: { ask: 'contradiction', about, answer } })),
			{ kind: 'stepEntered', data: { step: at } }
		]
	};
}

function unreadyParts(edition: Edition, parts: Readonly<Record<PartId, ConditionId>>, atFirst: boolean): Missing[] {
	return edition.parts.flatMap(({ id, start, conditions }): Missing[] => {
		const is = parts[id];
		const choices = atFirst ? start : conditions.map((condition) => condition.id);
		if (is === undefined) return [{ key: 'partUnknown', part: id, choices }];
		return choices.includes(is) ? [] : [{ key: 'partNotReady', part: id, is, choices }];
	});
}

function contradictions({ edition, left, stated, explained }: Beginning): Missing[] {
	return edition.parts.flatMap(({ id, unknown }): Missing[] => {
		const was = left?.parts[id];
		const seen = stated[id]?.is;
		if (was === undefined || seen === undefined || was === seen || was === unknown) return [];
		if (left?.complete && isOnlyStart(edition, id, seen)) return [];
		return (explained?.[id] ?? '').trim() === '' ? [{ key: 'contradiction', part: id, left: was, seen }] : [];
	});
}

function wrongSettings(edition: Edition, settings: Readonly<Record<string, string | number>>): Missing[] {
	return edition.settings.flatMap((setting): Missing[] => {
		const value = settings[setting.id];
		const fits =
			setting.kind === 'number'
				? typeof value === 'number' && value >= setting.min && value <= setting.max
				: setting.options.some(({ id }) => id === value);
		return fits ? [] : [{ key: 'setting', setting: setting.id, value: value ?? '' }];
	});
}
