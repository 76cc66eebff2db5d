import type { Dimension } from './units';
import type { QuantityInput } from './reckoning';

/**
 * The inputs that recur. Ranges are wide: what any such instrument could show; a result is judged by the view and by limits, which
 * are settings.
 */
type More = Partial<Omit<QuantityInput, 'kind' | 'dimension'>>;
/** Keeps "may be absent" in the type, so that `compute` must deal with it. */
type Made<M extends More> = M extends { readonly optional: true }
	? QuantityInput & { readonly optional: true }
	: QuantityInput;

/** Declares a quantity with the usual things filled in by `base`. */
export function quantity<const M extends More>(
	dimension: Dimension,
	base: Required<Pick<QuantityInput, 'usual' | 'min' | 'max'>>,
	more: M
): Made<M> {
	return { kind: 'quantity', dimension, source: 'reading', ...base, ...more } as Made<M>;
}

const deg = Math.PI / 180;

/** Signed distance in a view. */
export const offset = <const M extends More>(more: M): Made<M> =>
	quantity('length', { usual: 'µm', min: -5e-3, max: 5e-3 }, more);

/** Distance or size; 1 pm is below anything that can be read. */
export const size = <const M extends More>(more: M): Made<M> =>
	quantity('length', { usual: 'µm', min: 1e-12, max: 5e-3 }, more);

export const tilt = <const M extends More>(more: M): Made<M> =>
	quantity('angle', { usual: '°', min: -85 * deg, max: 85 * deg }, more);

/**
 * Angle between the electron and the ion column. 52°, 54° and 55° are common (common practice, no source; 52–54°: Liao, online book,
 * p. 2489); a setting, so no default.
 */
export const columnAngle = quantity('angle', { usual: '°', min: 5 * deg, max: 85 * deg }, { source: 'instrument' });

/** Half the width of the view the reading was taken in. */
export const viewHalf = size({ optional: true, source: 'magnification' });
/** Largest single move allowed. */
export const limit = size({ optional: true, source: 'setting' });

/** Which way a positive number goes, as the trial of the signs found it. */
export const triedSign = {
	kind: 'choice',
	options: ['+', '-', 'untried'],
	default: 'untried',
	source: 'signs'
} as const;
