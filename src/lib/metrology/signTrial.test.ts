import { describe, expect, it } from 'vitest';
import { answerTrial, beginTrial, trialOrder, type TrialAnswer } from './signTrial';

describe('the trial of signs', () => {
	it('ST1 moves a little on each axis, asks which way, and keeps the signs', () => {
		let trial = beginTrial(100e-6);
		expect(trial.now).toMatchObject({
			axis: 'stageX',
			amountM: 10e-6,
			view: 'electron',
			directions: ['right', 'left'],
			probeOut: true
		});
		trialOrder.forEach((_, index) => (trial = answerTrial(trial, index % 2 ? 'negative' : 'positive')));
		expect(trial.now).toBeNull();
		expect(trial.signs).toMatchObject({ stageX: 1, stageY: -1, stageZ: 1, stageZRaises: -1, stageTilt: 1, probeX: -1 });
		expect(trial.left).toEqual([]);
	});
	it('ST2 a picture that stood still is tried with twice the move, at most three times, then left untried', () => {
		let trial = beginTrial(100e-6, { stageX: -1 }, ['stageX', 'stageTilt']);
		const amounts = [trial.now!.amountM];
		for (const answer of ['still', 'unsure'] as TrialAnswer[]) {
			trial = answerTrial(trial, answer);
			amounts.push(trial.now!.amountM);
		}
		expect(amounts.map((amountM) => amountM! * 1e6)).toEqual([10, 20, 40].map((each) => expect.closeTo(each, 9)));
		trial = answerTrial(trial, 'still');
		expect(trial.left).toEqual(['stageX']);
		expect(trial.signs).toEqual({});
		expect(trial.now).toMatchObject({ axis: 'stageTilt', amountRad: Math.PI / 180 });
	});
	it('ST3 refuses a view without width', () => {
		expect(() => beginTrial(0)).toThrow(RangeError);
	});
});
