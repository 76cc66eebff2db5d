import { describe, expect, it } from 'vitest';
import { BadUse } from './command';
import { reckon } from './reckon';

async function run(...args: string[]) {
	let out = '';
	let err = '';
	const code = await reckon.run(args, { out: (text) => void (out += text), err: (text) => void (err += text) });
	return { code, out, err };
}

async function fault(...args: string[]): Promise<string> {
	const found: unknown = await run(...args).catch((thrown: unknown) => thrown);
	if (!(found instanceof BadUse)) throw new Error('no bad use');
	return found.message;
}

describe('handrail reckon', () => {
	it('C9a says result, uncertainty and the move', async () => {
		const { code, out } = await run(
			'height-from-ion-shift',
			'shift=-30um±1um',
			'columnAngle=52°',
			'sign=-',
			'raises=+'
		);
		expect(code).toBe(0);
		expect(out).toContain('38.1 µm ± 1.27 µm');
		expect(out).toContain('Stage Z down 38.1 µm, then look again.');
	});
	it('C9b gives SI, unit, formula and source as JSON', async () => {
		const { out } = await run('depth-from-apparent', 'apparent=5 µm ± 2%', 'columnAngle=52deg', '--json');
		const found = JSON.parse(out) as {
			results: { depth: { value: number; uncertainty: number; unit: string } };
			source: string;
		};
		expect(found.results.depth.value).toBeCloseTo(6.345e-6, 9);
		expect(found.results.depth.uncertainty / found.results.depth.value).toBeCloseTo(0.02, 6);
		expect(found.results.depth.unit).toBe('m');
		expect(found.source).toMatch(/derived/);
	});
	it('C9c a formula that does not work there is told with its reason, exit 1', async () => {
		const given = ['z-on-tilt', 'shift=10um', 'tilt=52deg', 'columnAngle=52deg'];
		expect(await run(...given)).toMatchObject({ code: 1, out: '', err: expect.stringContaining('along the ion beam') });
		expect(JSON.parse((await run(...given, '--json')).out)).toMatchObject({
			name: 'z-on-tilt',
			refused: expect.stringContaining('ion beam')
		});
	});
	it('C9d bad input says what was wrong, the accepted units and the range', async () => {
		expect(await fault('height-from-ion-shift', 'shift=30', 'columnAngle=52deg')).toBe(
			'shift: “30” has no unit; expected µm, nm, mm, cm or m. Expected −5000 µm to 5000 µm (µm, nm, mm, cm or m).'
		);
		expect(await fault('height-from-ion-shift', 'shift=30um', 'columnAngle=91deg')).toContain(
			'“columnAngle” is 91°; expected 5° to 85°'
		);
		expect(await fault('height-from-ion-shift', 'shift=30um')).toContain('“columnAngle” is missing');
		expect(await fault('height-from-ion-shift', 'shift=30um', 'shift=31um', 'columnAngle=52deg')).toContain(
			'given twice'
		);
		expect(await fault('height-from-ion-shift', 'drift=1um')).toContain('no input "drift"; expected shift,');
		expect(await fault('height-from-ion-shift', 'shift')).toContain('not key=value');
		expect(await fault('half-difference', 'gapLeft=1um', 'gapRight=1um', 'axis=sideways')).toContain(
			'probeX, stageX'
		);
		expect(await fault('weight')).toContain('no reckoning "weight"');
		expect(await fault()).toContain('no reckoning named');
		expect(await fault('--list', 'more')).toContain('takes nothing else');
	});
	it('C9e reads corners with their uncertainty', async () => {
		const given = ['time-polygon', 'depth=1um', 'current=1nA', 'rate=0.2um3/nC', '--json'];
		const { out } = await run(...given, 'corners=0,0; 10,0; 10,5 um ± 0.1 um');
		const { time } = (JSON.parse(out) as { results: { time: { value: number; uncertainty: number } } }).results;
		// half of 10 × 5 µm², 1 µm deep, 0.2 µm³/s: 125 s; area ± 0.1·√(100 + 25 + 125)/2 = 0.79 of 25 µm²
		expect(time.value).toBeCloseTo(125, 9);
		expect(time.uncertainty).toBeCloseTo(125 * (0.7906 / 25), 1);
		expect(await fault(...given, 'corners=0,0; 10; 10,5 um')).toContain('no list of corners');
		expect(await fault(...given, 'corners=0,0; 1,0 um')).toContain('2 corners; expected 3 to 12');
	});
	it('C9f questions a result larger than the view and holds the move back', async () => {
		const { out } = await run('height-from-ion-shift', 'shift=300um', 'columnAngle=52deg', 'viewHalf=100um');
		expect(out).toContain('? The move would be 381 µm');
		expect(out).not.toContain('then look again');
	});
	it('C9g lists every reckoning with inputs, units, ranges and sources', async () => {
		const listed = JSON.parse((await run('--list', '--json')).out) as {
			name: string;
			inputs: Record<string, { source: string }>;
		}[];
		expect(listed.length).toBeGreaterThan(20);
		for (const { inputs } of listed) for (const { source } of Object.values(inputs)) expect(source).toBeTruthy();
		expect((await run('--list')).out).toContain('time-trench: Time of a trench.');
	});
});
