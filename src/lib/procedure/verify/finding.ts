import type { Parts, Settings } from '../condition';
import type { StepPath } from '../edition';
import type { Position } from '../fault';
import type { MetRule } from './met';

/** What the checker looks for; each is refuted by a finding, and proved by there being none. */
export type RuleId =
	| MetRule
	/** A step or a trouble that no walk comes to. */
	| 'unreachable'
	/** A step sets a dangerous condition without a hazard that must be confirmed. */
	| 'unconfirmed'
	/** No allowed start. */
	| 'start'
	/** A limit was hit: nothing is proved. */
	| 'limit';

export interface Finding {
	readonly rule: RuleId;
	/** One sentence: what is wrong, where, and what was expected. */
	readonly sentence: string;
	/** Key of the compiled positions: `STEP`, `STEP#needs`, `STEP#hazard`, `STEP#answer:ID`, `trouble:ID`, `invariant:ID`, `ends`. */
	readonly at: string;
	readonly position: Position | null;
	/** The shortest way to it from a start, in the procedure's own titles; empty where it needs none. */
	readonly path: readonly PathStep[];
	/** What is true of the parts when it happens; null where it is true of the text alone. */
	readonly parts: Parts | null;
	readonly settings: Settings | null;
}

export interface PathStep {
	readonly step: StepPath;
	/** The step's full wording in the edition's first language. */
	readonly title: string;
	/** The answer given, or the trouble called, or what else happened there; empty for a plain answer to a plain step. */
	readonly then: string;
	readonly position: Position | null;
}

export interface Statistics {
	/** States (step, parts) explored, and how many of them only "end the visit" leads to. */
	readonly states: number;
	readonly endingStates: number;
	readonly valuations: number;
	readonly starts: number;
	/** Wall time by the clock given; 0 without one. */
	readonly ms: number;
}

export interface Verdict {
	readonly findings: readonly Finding[];
	readonly statistics: Statistics;
}
