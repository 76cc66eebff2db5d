import type { Edition, StageId } from '$lib/procedure/edition';

/** The stage that must begin in time so that everything is brought back: the last but one, after which only the last way out is left. */
export const returnStageOf = ({ stages }: Edition): StageId | null => (stages.length < 3 ? null : (stages.at(-2)?.id ?? null));
