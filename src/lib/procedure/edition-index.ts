import type { Edition, Localised, StageId } from './edition';

/** What the app knows of an edition before it loads it: an entry of `editions/index.json`. */
export interface EditionEntry {
	readonly id: string;
	readonly version: string;
	/** SHA-256 hex of the RFC 8785 form of the edition; checked when it is loaded. */
	readonly hash: string;
	readonly title: Localised;
	readonly summary: Localised;
	readonly languages: readonly string[];
	readonly stages: readonly { readonly id: StageId; readonly title: Localised; readonly short: Localised; readonly plannedMs: number; readonly optional: boolean }[];
	readonly plannedMs: number;
	readonly steps: number;
}

/** The index of compiled editions, longest first: the whole visit stands on top. */
export function indexOf(compiled: readonly { readonly edition: Edition; readonly hash: string }[]): EditionEntry[] {
	return compiled
		.map(({ edition, hash }) => ({
			id: edition.id,
			version: edition.version,
			hash,
			title: edition.title,
			summary: edition.summary,
			languages: edition.languages,
			stages: edition.stages.map(({ id, title, short, plannedMs, optional }) => ({ id, title, short, plannedMs, optional: optional !== undefined })),
			plannedMs: edition.stages.reduce((sum, stage) => sum + stage.plannedMs, 0),
			steps: edition.stages.reduce((sum, stage) => sum + stage.steps.length, 0)
		}))
		.sort((a, b) => b.plannedMs - a.plannedMs || (a.id < b.id ? -1 : 1));
}
