import type { Condition, ConditionId, PartId, SettingId } from './edition';

/** What is true of the parts now. */
export type Parts = Readonly<Record<PartId, ConditionId>>;
/** The settings of a run; numbers are kept as numbers, choices as their option's id. */
export type Settings = Readonly<Record<SettingId, string | number>>;

/** Whether a condition holds for these parts and settings. A part or setting that is missing fulfils nothing. */
export function holds(condition: Condition, parts: Parts, settings: Settings = {}): boolean {
	if ('part' in condition) return condition.is.includes(parts[condition.part] ?? '');
	if ('setting' in condition) return condition.is.includes(String(settings[condition.setting] ?? ''));
	if ('all' in condition) return condition.all.every((c) => holds(c, parts, settings));
	if ('any' in condition) return condition.any.some((c) => holds(c, parts, settings));
	return !holds(condition.not, parts, settings);
}

/** The smallest pieces of a condition that do not hold, for telling a person what is missing. */
export function unmet(condition: Condition, parts: Parts, settings: Settings = {}): Condition[] {
	if (holds(condition, parts, settings)) return [];
	if ('all' in condition) return condition.all.flatMap((c) => unmet(c, parts, settings));
	return [condition];
}
