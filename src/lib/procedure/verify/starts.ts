import type { CodedEdition } from '../coded-edition';
import type { Condition, Edition } from '../edition';
import type { Valuations } from '../valuations';

/**
 * Every combination of the parts' start conditions and the options of the choice settings with which a visit may begin:
 * those that fulfil the invariants over states and the first step's requirement. A setting that no condition asks about
 * stands at its default. Combinations are built digit by digit, and each condition is asked as soon as its last digit
 * is set. At most `limit` are kept; `all` says whether these are all.
 */
export function starts(code: CodedEdition, valuations: Valuations, limit: number): { readonly parts: number[]; readonly all: boolean } {
	const { edition, coding } = code;
	const conditions = [
		...edition.invariants.flatMap((invariant) => ('always' in invariant ? [invariant.always] : [])),
		...conjuncts(edition.steps[edition.first]?.require ?? { all: [] })
	].map((condition) => ({ test: coding.test(condition), last: Math.max(-1, ...mentioned(condition).map(({ part, setting }) => (part !== undefined ? coding.partDigit(part) : coding.settingDigit(setting ?? '')))) }));
	const asked = new Set(allConditions(edition).flatMap(mentioned).map(({ setting }) => setting));
	const choices: number[][] = [
		...edition.parts.map((part, digit) => part.start.map((condition) => coding.value(digit, condition))),
		...edition.settings.flatMap((setting) => {
			if (setting.kind !== 'choice') return [];
			const options = asked.has(setting.id) ? setting.options.map(({ id }) => id) : [setting.default];
			return [options.map((option) => coding.value(coding.settingDigit(setting.id), option))];
		})
	];
	const at: (typeof conditions)[] = choices.map((_, digit) => conditions.filter(({ last }) => last === digit));
	const digits = new Uint8Array(coding.width);
	const found: number[] = [];
	let all = true;

	function fill(digit: number): void {
		if (found.length >= limit) return void (all = false);
		const values = choices[digit];
		if (!values) return void found.push(valuations.add(digits));
		for (const value of values) {
			digits[digit] = value;
			if (at[digit]?.every(({ test }) => test(digits, 0))) fill(digit + 1);
		}
	}
	if (conditions.every(({ test, last }) => last >= 0 || test(digits, 0))) fill(0);
	return { parts: found, all };
}

/** The pieces that must all hold. */
export function conjuncts(condition: Condition): Condition[] {
	return 'all' in condition ? condition.all.flatMap(conjuncts) : [condition];
}

/** Parts and settings that a condition asks about. */
export function mentioned(condition: Condition): { readonly part?: string; readonly setting?: string }[] {
	if ('part' in condition) return [{ part: condition.part }];
	if ('setting' in condition) return [{ setting: condition.setting }];
	if ('not' in condition) return mentioned(condition.not);
	return ('all' in condition ? condition.all : condition.any).flatMap(mentioned);
}

/** Every condition that an edition holds anywhere. */
export function allConditions(edition: Edition): Condition[] {
	const whens = (go: readonly { readonly when?: Condition }[]) => go.flatMap(({ when }) => (when ? [when] : []));
	return [
		...edition.invariants.map((invariant) => ('always' in invariant ? invariant.always : invariant.onlyWhile)),
		...edition.stages.flatMap(({ optional }) => (optional ? [optional.ifLeftOut] : [])),
		...edition.troubles.flatMap((trouble) => [trouble.while, ...whens(trouble.go)]),
		...Object.values(edition.steps).flatMap((step) => [
			step.require,
			...(step.optional ? [step.optional.ifLeftOut] : []),
			...step.outcomes.flatMap((outcome) => [...(outcome.offered ? [outcome.offered] : []), ...whens(outcome.go)])
		]),
		edition.ends.complete,
		edition.ends.safe
	];
}
