import type { StepView } from './view';

/**
 * How large the step may be written: short steps large, long ones smaller, never below the preferred 22 arc minutes
 * (the stylesheet keeps that floor). Returns a factor on the largest size. Breaks chosen by eye at 1280×800: two lines of a
 * short step, three of a long one; steps that ask for numbers count as longer.
 */
export function stepScale(text: string, kind: StepView['kind']): number {
	// numbers and rounds need room beneath
	const length = [...text].length * (kind === 'reading' || kind === 'adjust' ? 1.7 : kind === 'do' ? 1 : 1.15);
	if (length <= 48) return 1;
	if (length <= 80) return 0.8;
	if (length <= 130) return 0.64;
	return 0.5;
}
