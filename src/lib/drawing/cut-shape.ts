import { lengthText } from '$lib/metrology/quantityText';
import * as m from '$lib/paraglide/messages';
import type { DrawingProps } from './drawing-props';
import type { Handle } from './handle';
import type { ParameterSpec, Values } from './parameters';

/** Most corners that a polygon is drawn with. */
export const MOST_CORNERS = 12;
const length: ParameterSpec = { kind: 'length', unit: 'µm', min: -1e6, max: 1e6 };

/** A cut or deposit from above, and cut open beside it, to one scale. */
export const cutShapeSpec: Readonly<Record<string, ParameterSpec>> = {
	length,
	width: length,
	/** Downwards; of a deposit: upwards (`up`). */
	depth: length,
	shape: { kind: 'choice', options: { box: [], wedge: [] }, default: 'box' },
	goes: { kind: 'choice', options: { down: [], up: [] }, default: 'down' },
	...Object.fromEntries(Array.from({ length: MOST_CORNERS }, (_, i) => [[`x${i + 1}`, length], [`y${i + 1}`, length]]).flat())
};

/** Corners of the outline from above, in m; a rectangle's four where no corners are given. */
export function cornersOf({ numbers }: Values): readonly (readonly [number, number])[] {
	const corners = Array.from({ length: MOST_CORNERS }, (_, i) => [numbers[`x${i + 1}`], numbers[`y${i + 1}`]] as const).filter(
		(corner): corner is readonly [number, number] => corner[0] !== undefined && corner[1] !== undefined
	);
	if (corners.length > 0) return corners;
	const { length: long, width: wide } = numbers;
	return long === undefined || wide === undefined ? [] : [[0, 0], [long, 0], [long, wide], [0, wide]];
}

export interface CutLayout {
	readonly height: number;
	readonly pxPerM: number | null;
	/** From above: px of a corner. */
	plan(corner: readonly [number, number]): readonly [number, number];
	/** Cut open: upper left corner, px, and its size. */
	readonly section: { readonly x: number; readonly y: number; readonly width: number; readonly depth: number };
}

/** A cut that nobody has keyed yet is dragged as if the drawing were this wide. */
const UNSCALED_M = 20e-6;

export function cutLayout({ values, widthPx, letterPx, scaleBy }: DrawingProps): CutLayout {
	const margin = letterPx * 1.6;
	const between = letterPx * 3;
	const height = Math.min(widthPx * 0.62, letterPx * 13);
	const outline = cornersOf(scaleBy);
	const [xs, ys] = [outline.map(([x]) => x), outline.map(([, y]) => y)];
	const [left, top] = [Math.min(0, ...xs), Math.max(0, ...ys)];
	const [wide, high] = [Math.max(0, ...xs) - left, top - Math.min(0, ...ys)];
	const isPolygon = scaleBy.numbers.x1 !== undefined;
	const across = isPolygon ? wide : (scaleBy.numbers.width ?? 0);
	const deep = scaleBy.numbers.depth ?? 0;
	const room = widthPx - 2 * margin - between;
	const pxPerM = wide + across === 0 ? null : Math.min(room / (wide + across), (height - 2.2 * margin) / Math.max(high, deep, 1e-12));
	const scale = pxPerM ?? room / 2 / UNSCALED_M;
	const planX = margin - left * scale;
	const planY = margin * 0.8 + top * scale;
	const own = isPolygon ? wide : (values.numbers.width ?? 0);
	return {
		height,
		pxPerM,
		plan: ([x, y]) => [planX + x * scale, planY - y * scale],
		section: { x: margin + wide * scale + between, y: margin * 0.8, width: own * scale, depth: (values.numbers.depth ?? 0) * scale }
	};
}

export function cutHandles(props: DrawingProps): readonly Handle[] {
	const { values } = props;
	const { numbers } = values;
	const layout = cutLayout(props);
	const scale = layout.pxPerM;
	if (scale === null) return [];
	const [originX, originY] = layout.plan([0, 0]);
	const inPlan = (x: number, y: number): readonly [number, number] => [(x - originX) / scale, (originY - y) / scale];
	const corners = numbers.x1 === undefined ? [] : cornersOf(values);
	const least = 1e-9;
	return [
		...corners.map((corner, i): Handle => {
			const [x, y] = layout.plan(corner);
			return {
				id: `corner${i + 1}`,
				x,
				y,
				along: 'both',
				label: m.drawing_cut_move_corner({ number: String(i + 1) }),
				says: m.drawing_and({ first: lengthText(corner[0]), second: lengthText(corner[1]) }),
				at: (toX, toY) => {
					const [cornerX, cornerY] = inPlan(toX, toY);
					return { [`x${i + 1}`]: cornerX, [`y${i + 1}`]: cornerY };
				}
			};
		}),
		...(corners.length === 0 && numbers.length !== undefined && numbers.width !== undefined
			? [planCorner(layout, numbers.length, numbers.width, (x, y) => inPlan(x, y), least)]
			: []),
		...(numbers.depth === undefined
			? []
			: [
					{
						id: 'depth',
						// a wedge is as deep as that at one side only
						x: layout.section.x + (values.choices.shape === 'wedge' ? 0 : layout.section.width * 0.5),
						y: layout.section.y + layout.section.depth,
						along: 'y' as const,
						label: m.drawing_cut_move_depth(),
						says: lengthText(numbers.depth),
						at: (_: number, y: number) => ({ depth: Math.max(least, (y - layout.section.y) / scale) })
					}
				])
	];
}

function planCorner(layout: CutLayout, long: number, wide: number, inPlan: (x: number, y: number) => readonly [number, number], least: number): Handle {
	// the corner away from the origin, which lies below it on the screen
	const [x, y] = layout.plan([long, 0]);
	const [, top] = layout.plan([0, wide]);
	return {
		id: 'size',
		x,
		y,
		along: 'both',
		label: m.drawing_cut_move_size(),
		says: m.drawing_cut_size({ length: lengthText(long), width: lengthText(wide) }),
		at: (toX, toY) => {
			const [length] = inPlan(toX, toY);
			const [, upper] = inPlan(toX, top);
			const [, lower] = inPlan(toX, toY);
			return { length: Math.max(least, length), width: Math.max(least, upper - lower) };
		}
	};
}

export function cutAlt(values: Values): string {
	const { length: long, width: wide, depth, x1 } = values.numbers;
	if (x1 !== undefined) return m.drawing_cut_polygon_alt({ count: String(cornersOf(values).length), depth: depth === undefined ? m.drawing_not_measured() : lengthText(depth) });
	const said = (value: number | undefined): string => (value === undefined ? m.drawing_not_measured() : lengthText(value));
	const words = values.choices.goes === 'up' ? m.drawing_cut_deposit_alt : values.choices.shape === 'wedge' ? m.drawing_cut_wedge_alt : m.drawing_cut_box_alt;
	return words({ length: said(long), width: said(wide), depth: said(depth) });
}
