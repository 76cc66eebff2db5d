import * as m from '$lib/paraglide/messages';
import type { DrawingProps } from './drawing-props';
import type { Handle } from './handle';
import { offsetText, offsetWords } from './offset-text';
import type { ParameterSpec, Values } from './parameters';
import { roundAbove } from './scale-bar';

const offset: ParameterSpec = { kind: 'length', unit: 'µm', min: -5000, max: 5000 };

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
	/** Half the width of the view; where it is not given, a round one that holds the offsets. */
	viewHalf: { kind: 'length', unit: 'µm', min: 0.5, max: 20000 },
	/** How the picture goes with the move that was reckoned, right and up (+), in the view `goesIn`. */
	goesX: { kind: 'length', unit: 'µm', min: -20000, max: 20000 },
	goesY: { kind: 'length', unit: 'µm', min: -20000, max: 20000 },
	goesIn: { kind: 'choice', options: { electron: [], ion: [] } },
	/** How far beam shift reaches to either side in the ion view. */
	range: { kind: 'length', unit: 'µm', min: 0, max: 5000 }
};

const features: Readonly<Record<string, () => string>> = {
	taper: m.drawing_feature_taper,
	post: m.drawing_feature_post,
	tip: m.drawing_feature_tip,
	slot: m.drawing_feature_slot,
	mark: m.drawing_feature_mark
};

/** "38 µm down": how the picture goes with the move; empty where none is drawn. */
const goesWay = ({ numbers: { goesX, goesY } }: Values): string => (goesX || goesY ? offsetText(goesX, goesY) : '');
/** The same as a caption. */
export const goesText = (values: Values): string => (goesWay(values) === '' ? '' : m.drawing_goes({ way: goesWay(values) }));

export function twoViewsAlt(values: Values): string {
	const { numbers, choices } = values;
	const feature = features[choices.feature ?? 'mark']?.() ?? '';
	const seen = m.drawing_two_views_alt({
		feature,
		electron: offsetText(numbers.electronX, numbers.electronY),
		feature2: feature,
		ion: offsetText(numbers.ionX, numbers.ionY)
	});
	const goes = goesWay(values);
	if (goes === '') return seen;
	return `${seen} ${m.drawing_goes_alt({ goes, view: choices.goesIn === 'electron' ? m.drawing_electron() : m.drawing_ion() })}`;
}

/** Offset in view widths (−0.5 … 0.5 is inside), held just inside the frame so that something far off still shows its side. */
export function placeInView(offsetM: number | undefined, viewHalfM: number): number {
	return Math.max(-0.44, Math.min(0.44, (offsetM ?? 0) / (2 * viewHalfM)));
}

/** Half the view's width in m: as given, else a round one that holds all offsets; 60 µm where there are none. */
export function viewHalfM({ numbers }: Values): number {
	if (numbers.viewHalf !== undefined) return numbers.viewHalf;
	const { electronX = 0, electronY = 0, ionX = 0, ionY = 0, range = 0 } = numbers;
	const farthest = Math.max(...[electronX, electronY, ionX, ionY].map(Math.abs), range);
	return farthest === 0 ? 60e-6 : roundAbove(Math.max(1.3 * farthest, 0.5e-6));
}

export type Beam = 'electron' | 'ion';

/** One view on the drawing, px. */
export interface Pane {
	readonly beam: Beam;
	readonly left: number;
	readonly width: number;
	readonly height: number;
	readonly pxPerM: number;
	readonly quiet: boolean;
	readonly known: boolean;
	/** The feature's place from the pane's centre; y runs down, as on a screen. */
	readonly dx: number;
	readonly dy: number;
	readonly says: readonly string[];
	/** Where the feature goes with the move, from the pane's centre. */
	readonly goesTo: readonly [dx: number, dy: number] | null;
}

export function panesOf({ values, widthPx, letterPx, scaleBy }: DrawingProps): readonly Pane[] {
	const { numbers, choices } = values;
	const view = choices.view ?? 'both';
	const half = viewHalfM(scaleBy);
	const between = letterPx * 0.6;
	const width = (widthPx - between) / 2;
	const height = Math.min(width * 0.95, letterPx * 12);
	return (['electron', 'ion'] as const).map((beam, i): Pane => {
		const [x, y] = beam === 'electron' ? [numbers.electronX, numbers.electronY] : [numbers.ionX, numbers.ionY];
		// the picture's up is the screen's up; same scale both ways
		const inside = (px: number): number => Math.max(-0.42 * height, Math.min(0.42 * height, px));
		const [dx, dy] = [placeInView(x, half) * width, inside(-placeInView(y, half) * width)];
		const goes = choices.goesIn === beam && (numbers.goesX || numbers.goesY);
		const px = (lengthM: number | undefined): number => ((lengthM ?? 0) / (2 * half)) * width;
		return {
			beam,
			left: i * (width + between),
			width,
			height,
			pxPerM: width / (2 * half),
			quiet: view !== 'both' && view !== beam,
			known: x !== undefined || y !== undefined,
			dx,
			dy,
			says: offsetWords(x, y),
			goesTo: goes ? [dx + px(numbers.goesX), inside(dy - px(numbers.goesY))] : null
		};
	});
}

/** The feature in each view can be moved wherever an offset is awaited or known. */
export function twoViewsHandles(props: DrawingProps): readonly Handle[] {
	const { values } = props;
	return panesOf(props).flatMap((pane): Handle[] => {
		const [nameX, nameY] = pane.beam === 'electron' ? ['electronX', 'electronY'] : ['ionX', 'ionY'];
		const asked = (name: string): boolean => values.numbers[name] !== undefined || values.awaited.includes(name);
		const [x, y] = [asked(nameX), asked(nameY)];
		if (!x && !y) return [];
		const [centreX, centreY] = [pane.left + pane.width / 2, pane.height / 2];
		return [
			{
				id: pane.beam,
				x: centreX + pane.dx,
				y: centreY + pane.dy,
				along: x && y ? 'both' : x ? 'x' : 'y',
				label: pane.beam === 'electron' ? m.drawing_move_in_electron() : m.drawing_move_in_ion(),
				says: pane.says.join(', ') || m.drawing_not_measured(),
				at: (toX, toY) => ({
					...(x ? { [nameX]: (toX - centreX) / pane.pxPerM } : {}),
					...(y ? { [nameY]: (centreY - toY) / pane.pxPerM } : {})
				})
			}
		];
	});
}
