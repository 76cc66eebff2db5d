import { describe, expect, it } from 'vitest';
import { SimulatedClock } from '$lib/adapters/clock/simulated-clock';
import { createSignTrial } from './sign-trial.svelte';

const clock = () => new SimulatedClock({ wallMs: Date.UTC(2031, 0, 1, 9) });

describe('TR the trial of signs on screen', () => {
	it('TR1 goes through the chosen axes, stage before probe, and says when the probe comes in', () => {
		const run = createSignTrial(clock(), {});
		run.begin(60e-6, 'all');
		const met: string[] = [];
		let cameIn = '';
		while (run.trial?.now && !run.ended) {
			met.push(run.trial.now.axis);
			if (run.probeComesIn) cameIn = run.trial.now.axis;
			expect(run.nth).toBe(met.length);
			run.answer('positive');
		}
		expect(met).toEqual(['stageX', 'stageY', 'stageZ', 'stageZRaises', 'stageTilt', 'beamShiftX', 'beamShiftY', 'probeX', 'probeY', 'probeZ']);
		expect(cameIn).toBe('probeX');
		expect(run.ended).toBe(true);
	});
	it('TR2 one answer can be taken back, also after the end', () => {
		const run = createSignTrial(clock(), {});
		run.begin(60e-6, 'probe');
		for (const answer of ['positive', 'negative', 'positive'] as const) run.answer(answer);
		expect(run.ended).toBe(true);
		run.back();
		expect(run).toMatchObject({ ended: false, nth: 3, seen: { probeX: 1, probeY: -1 } });
		run.back();
		run.answer('positive');
		expect(run.seen).toEqual({ probeX: 1, probeY: 1 });
	});
	it('TR3 stopped early, it keeps what was seen and can go on', () => {
		const run = createSignTrial(clock(), { stageX: -1, probeX: 1 });
		run.begin(60e-6, 'stage');
		run.answer('positive');
		run.stop();
		expect(run).toMatchObject({ ended: true, seen: { stageX: 1 }, turned: ['stageX'] });
		run.back();
		expect(run).toMatchObject({ ended: false, nth: 2 });
	});
	it('TR4 counts the time until it ends', () => {
		const time = clock();
		const run = createSignTrial(time, {});
		run.begin(60e-6, 'probe');
		time.advance(40_000);
		run.tick();
		expect(run.elapsedMs).toBe(40_000);
		for (let i = 0; i < 3; i++) run.answer('positive');
		time.advance(40_000);
		run.tick();
		expect(run.elapsedMs).toBe(40_000);
	});
});
