import { codedEdition } from '../coded-edition';
import type { Edition } from '../edition';
import { accounted } from './accounted';
import { backwards } from './backwards';
import type { RuleId } from './finding';
import { Reach } from './reach';
import { Say } from './say';
import { unconfirmed, unreachable } from './text-rules';

/**
 * Whether an edition is sound, without saying where it is not: the rules that are broken, at the first place where the
 * search meets one. Quicker than `verify` on a faulty edition; the same verdict on a sound one. `ignore`: places
 * (`rule@key`) of text rules that do not count.
 */
export function brokenRules(edition: Edition, ignore: ReadonlySet<string> = new Set()): RuleId[] {
	const reach = new Reach(codedEdition(edition), { states: 3_000_000, starts: 100_000, first: true });
	const say = new Say(reach, new Map());
	const confirmed = unconfirmed(edition, reach, say).map(({ rule }): RuleId => rule);
	if (!reach.all) return ['limit'];
	if (reach.starts.length === 0) return ['start'];
	const met = reach.met.all;
	if (met.length > 0) return [...new Set([...met.map(({ rule }) => rule), ...confirmed])];
	const left = unreachable(reach, say).filter(({ rule, at }) => !ignore.has(`${rule}@${at}`));
	return [...new Set([...confirmed, ...[...left, ...accounted(reach), ...backwards(reach)].map(({ rule }): RuleId => rule)])];
}
