import * as m from '$lib/paraglide/messages';
import { offsetText } from './offset-text';
import type { ParameterSpec, Values } from './parameters';

const offset: ParameterSpec = { kind: 'length', unit: 'µm', min: -2000, max: 2000 };

/** Both beams' views with the feature's offset from the centre in each; a view that the step is not about is drawn quiet. */
export const twoViewsSpec: Readonly<Record<string, ParameterSpec>> = {
	feature: { kind: 'choice', options: { taper: ['shank', 'probe'], post: ['grid'], tip: ['needle'], slot: ['socket'], mark: ['feature', 'sample', 'site'] }, default: 'mark' },
	/** The view that the step is about; `both`: compare them. */
	view: { kind: 'choice', options: { electron: [], ion: [], both: [] }, default: 'both' },
	electronX: offset,
	electronY: offset,
	ionX: offset,
	/** Up (+) or down in the ion view: what the height corrects. */
	ionY: offset,
	/** Half the width of the view. */
	viewHalf: { kind: 'length', unit: 'µm', min: 0.5, max: 2000, default: 60 }
};

const features: Readonly<Record<string, () => string>> = {
	taper: m.drawing_feature_taper,
	post: m.drawing_feature_post,
	tip: m.drawing_feature_tip,
	slot: m.drawing_feature_slot,
	mark: m.drawing_feature_mark
};

export function twoViewsAlt({ numbers, choices }: Values): string {
	const feature = features[choices.feature ?? 'mark']?.() ?? '';
	return m.drawing_two_views_alt({
		feature,
		electron: offsetText(numbers.electronX, numbers.electronY),
		feature2: feature,
		ion: offsetText(numbers.ionX, numbers.ionY)
	});
}

/** Offset in view widths (−0.5 … 0.5 is inside), held just inside the frame so that something far off still shows its side. */
export function placeInView(offsetM: number | undefined, viewHalfM: number): number {
	return Math.max(-0.44, Math.min(0.44, (offsetM ?? 0) / (2 * viewHalfM)));
}
