import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cutHandles, cutShapeSpec } from './cut-shape';
import { nearestHandle } from './handle';
import { jawsHandles, jawsSpec } from './jaws-and-shank';
import { readParameters, type Given, type ParameterSpec } from './parameters';
import { roundAbove, roundBelow } from './scale-bar';
import { sceneOf } from './side-scenes';
import { sideViewHandles, sideViewSpec } from './side-view';
import { twoViewsHandles, twoViewsSpec } from './two-views';

const propsOf = (spec: Readonly<Record<string, ParameterSpec>>, given: Given) => {
	const { values, faults } = readParameters(spec, given);
	expect(faults).toEqual([]);
	return { values, scaleBy: values, widthPx: 500, letterPx: 18 };
};
const length = fc.double({ min: 0.01, max: 500, noNaN: true });
const signed = fc.double({ min: -500, max: 500, noNaN: true });
const angle = fc.double({ min: -80, max: 80, noNaN: true });

/** A handle left where it stands must give what is drawn: else a touch without a move would change a reading. */
describe('HA1 a handle that is not moved changes nothing', () => {
	it('jaws and shank', () =>
		fc.assert(
			fc.property(length, length, (gapLeft, gapRight) => {
				const props = propsOf(jawsSpec, { gapLeft, gapRight });
				for (const handle of jawsHandles(props)) for (const [name, value] of Object.entries(handle.at(handle.x, handle.y))) expect(value).toBeCloseTo(props.values.numbers[name]!, 9);
			})
		));
	it('two views, wherever the view holds the feature', () =>
		fc.assert(
			fc.property(signed, signed, (electronY, ionY) => {
				// held just inside the frame, a feature beyond it can't be dragged to where it is
				const props = propsOf(twoViewsSpec, { electronY, ionY, viewHalf: 2000 });
				for (const handle of twoViewsHandles(props)) for (const [name, value] of Object.entries(handle.at(handle.x, handle.y))) expect(value).toBeCloseTo(props.values.numbers[name]!, 9);
			})
		));
	it.each([
		['two tilts', fc.record({ tiltFrom: angle, tiltTo: angle, shift: signed, lateral: signed, height: signed })],
		['riding axis', fc.record({ tilt: angle, columnAngle: fc.double({ min: 10, max: 80, noNaN: true }), shift: signed })],
		['tilt limits', fc.record({ tilt: angle, least: angle, most: angle })],
		['lens', fc.record({ tilt: angle, workingDistance: length, reach: length, above: length })],
		['face', fc.record({ columnAngle: fc.double({ min: 10, max: 80, noNaN: true }), apparent: length })],
		['edge', fc.record({ tilt: fc.double({ min: 0, max: 80, noNaN: true }), apparent: length })]
	])('from the side: %s', (subject, drawn) =>
		fc.assert(
			fc.property(drawn, (given) => {
				const props = propsOf(sideViewSpec, { subject, ...given });
				for (const handle of sideViewHandles(props))
					for (const [name, value] of Object.entries(handle.at(handle.x, handle.y))) expect(value, `${subject} ${name}`).toBeCloseTo(props.values.numbers[name]!, 7);
			})
		)
	);
	it('cut or deposit', () =>
		fc.assert(
			fc.property(length, length, length, (long, width, depth) => {
				const props = propsOf(cutShapeSpec, { length: long, width, depth });
				for (const handle of cutHandles(props)) for (const [name, value] of Object.entries(handle.at(handle.x, handle.y))) expect(value).toBeCloseTo(props.values.numbers[name]!, 9);
			})
		));
});

describe('HA2 from the side', () => {
	const numbers = (given: Given) => propsOf(sideViewSpec, given).values;
	// Δy = h·(sinT₂ − sinT₁): 0 → 10°, 69.1 µm wander 12 µm (check-values, derived)
	it('draws a feature where the two tilts leave it', () => {
		const { marks } = sceneOf(numbers({ subject: 'two tilts', tiltFrom: 0, tiltTo: 10, shift: 12, height: 69.1 }));
		const at = (kind: 'feature' | 'feature before') => marks.find((mark) => mark.kind === kind) as { at: readonly [number, number] };
		expect(at('feature').at[0] - at('feature before').at[0]).toBeCloseTo(12e-6, 8);
	});
	// the ion view shows y·cosθ − z·sinθ: after the move it must show nothing
	it('draws the riding axis’s move to where the ion view shows the feature at its centre', () => {
		const [theta, tilt] = [(52 * Math.PI) / 180, (10 * Math.PI) / 180];
		const { marks } = sceneOf(numbers({ subject: 'riding axis', columnAngle: 52, tilt: 10, shift: 30, move: -30 / Math.sin(tilt - theta) }));
		const { to } = marks.find((mark) => mark.kind === 'move') as { to: readonly [number, number] };
		expect(to[0] * Math.cos(theta) - to[1] * Math.sin(theta)).toBeCloseTo(0, 12);
	});
});

describe('HA3 where handles lie close', () => {
	const handles = jawsHandles(propsOf(jawsSpec, { gapLeft: 1, gapRight: 1 }));
	it('the nearest is meant, and none out of reach', () => {
		const [left, right] = handles;
		expect(nearestHandle(handles, left!.x + 5, left!.y, 40)?.id).toBe('gapLeft');
		expect(nearestHandle(handles, right!.x - 5, right!.y, 40)?.id).toBe('gapRight');
		expect(nearestHandle(handles, left!.x, left!.y + 200, 40)).toBeUndefined();
	});
	it('a gap can’t be dragged below 0', () => {
		expect(handles[0]!.at(10_000, 0)).toEqual({ gapLeft: 0 });
	});
});

describe('HA4 round lengths', () => {
	it('are 1, 2 or 5 times a power of ten, just below and just above', () =>
		fc.assert(
			fc.property(fc.double({ min: 1e-9, max: 1, noNaN: true }), (length) => {
				for (const round of [roundBelow(length), roundAbove(length)]) expect([1, 2, 5]).toContain(Number((round / 10 ** Math.floor(Math.log10(round * 1.000001))).toPrecision(6)));
				expect(roundBelow(length)).toBeLessThanOrEqual(length);
				expect(roundAbove(length)).toBeGreaterThanOrEqual(length * (1 - 1e-9));
				expect(roundAbove(length)).toBeLessThanOrEqual(length * 2.5 * (1 + 1e-9));
			})
		));
});
