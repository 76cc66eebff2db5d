import { describe, expect, it } from 'vitest';
import { SimulatedClock } from '$lib/adapters/clock/simulated-clock';
import { createTurns } from './turns';

describe('turns', () => {
	it('come one a task, in the order asked, also to those that ask meanwhile', () => {
		const clock = new SimulatedClock({ wallMs: 0 });
		const tasks: (() => void)[] = [];
		const turns = createTurns({ after: (afterMs, then) => (expect(afterMs).toBe(0), tasks.push(then), () => {}) });
		const drawn: string[] = [];
		turns.ask(() => drawn.push('a'));
		turns.ask(() => {
			drawn.push('b');
			turns.ask(() => drawn.push('b, inside'));
		});
		turns.ask(() => drawn.push('c'));
		expect([drawn, tasks.length]).toEqual([[], 1]);
		for (const expected of [['a'], ['a', 'b'], ['a', 'b', 'c'], ['a', 'b', 'c', 'b, inside']]) {
			tasks.shift()?.();
			expect(drawn).toEqual(expected);
		}
		expect(tasks).toEqual([]);
		// later ones are not forgotten
		const later = createTurns(clock);
		later.ask(() => drawn.push('first'));
		clock.advance(1);
		later.ask(() => drawn.push('second'));
		clock.advance(1);
		expect(drawn.slice(-2)).toEqual(['first', 'second']);
	});
	it('do not come to one that is gone, and are not lost with it', () => {
		const clock = new SimulatedClock({ wallMs: 0 });
		const turns = createTurns(clock);
		const drawn: string[] = [];
		const leave = turns.ask(() => drawn.push('gone'));
		turns.ask(() => drawn.push('here'));
		leave();
		clock.advance(1);
		expect(drawn).toEqual(['here']);
	});
});
