import type { Finding } from './finding';

/** Rules whose one cause is seen from every step before it. */
const spreading = new Set<Finding['rule']>(['safe end', 'dead end', 'no way back']);
const TOLD = 3;

/** Findings by rule with the shortest paths first; of a rule whose one cause is seen from many steps only the nearest are told. */
export function fewer(findings: readonly Finding[]): Finding[] {
	const byRule = new Map<Finding['rule'], Finding[]>();
	for (const finding of findings) byRule.set(finding.rule, [...(byRule.get(finding.rule) ?? []), finding]);
	return [...byRule].flatMap(([rule, list]) => {
		const sorted = [...list].sort((a, b) => a.path.length - b.path.length);
		if (!spreading.has(rule) || sorted.length <= TOLD) return sorted;
		const last = sorted[TOLD - 1] as Finding;
		return [...sorted.slice(0, TOLD - 1), { ...last, sentence: `${last.sentence} (and from ${sorted.length - TOLD} steps more)` }];
	});
}
