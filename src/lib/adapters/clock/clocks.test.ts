import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { seededChance } from '../chance/seeded-chance';
import { browserClock } from './browser-clock';
import { rfc3339 } from '$lib/record/rfc3339';
import { SimulatedClock } from './simulated-clock';

describe('rfc3339', () => {
	it.each([
		[0, 0, '1970-01-01T00:00:00.000+00:00'],
		[0, 120, '1970-01-01T02:00:00.000+02:00'],
		[0, -210, '1969-12-31T20:30:00.000-03:30'],
		// RFC 3339 section 5.8: 1990-12-31T15:59:60-08:00 is a leap second, which no such clock shows; the second before it
		[Date.UTC(1990, 11, 31, 23, 59, 59), -480, '1990-12-31T15:59:59.000-08:00'],
		// RFC 3339 section 5.8: 1996-12-19T16:39:57-08:00 is 1996-12-20T00:39:57Z
		[Date.UTC(1996, 11, 20, 0, 39, 57), -480, '1996-12-19T16:39:57.000-08:00']
	])('%d ms at %d min is %s', (wallMs, offsetMin, text) => {
		expect(rfc3339(wallMs, offsetMin)).toBe(text);
		expect(Date.parse(text)).toBe(wallMs);
	});
});

describe('the simulated clock', () => {
	const start = Date.UTC(2026, 2, 29, 0, 30);
	it('fires timers in the order they are due, at their moment', () => {
		const clock = new SimulatedClock({ wallMs: start });
		const fired: string[] = [];
		clock.after(250, () => fired.push(`once ${clock.now().mono}`));
		const stop = clock.every(100, () => fired.push(`tick ${clock.now().mono}`));
		clock.advance(300);
		stop();
		clock.advance(1000);
		expect(fired).toEqual(['tick 100', 'tick 200', 'once 250', 'tick 300']);
		expect(clock.wallMs()).toBe(start + 1300);
	});
	it('tells a set clock, a daylight change, a sleep and a reload apart in what its stamps say', () => {
		const clock = new SimulatedClock({ wallMs: start, offsetMin: 60 });
		clock.advance(1000);
		clock.setWall(3_600_000);
		expect(clock.now()).toEqual({ at: '2026-03-29T02:30:01.000+01:00', mono: 1000, boot: 'boot-1' });
		clock.setOffset(120);
		expect(clock.now().at).toBe('2026-03-29T03:30:01.000+02:00');
		clock.sleep(5000);
		expect(clock.now()).toEqual({ at: '2026-03-29T03:30:06.000+02:00', mono: 1000, boot: 'boot-1' });
		clock.restart('boot-2', 2000);
		expect(clock.now()).toEqual({ at: '2026-03-29T03:30:08.000+02:00', mono: 0, boot: 'boot-2' });
	});
	it('refuses a timer that would never let time pass', () => {
		expect(() => new SimulatedClock({ wallMs: start }).every(0, () => {})).toThrow(/more than 0/);
	});
});

describe('the browser clock', () => {
	beforeEach(() => vi.useFakeTimers({ now: Date.UTC(2026, 4, 4, 8), toFake: ['Date', 'performance', 'setInterval', 'setTimeout', 'clearInterval', 'clearTimeout'] }));
	afterEach(() => vi.useRealTimers());
	it('stamps with offset and milliseconds, counts whole milliseconds, and is one boot', () => {
		const clock = browserClock(seededChance(1));
		const one = clock.now();
		vi.advanceTimersByTime(1234);
		const two = clock.now();
		expect(one.at).toMatch(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}[+-]\d\d:\d\d$/);
		expect(Date.parse(two.at) - Date.parse(one.at)).toBe(1234);
		expect(two.mono - one.mono).toBe(1234);
		expect(two.boot).toBe(one.boot);
		expect(one.boot).toMatch(/^[0-9a-f]{32}$/);
	});
	it('stops timers when told', () => {
		const clock = browserClock(seededChance(1));
		let count = 0;
		const stop = clock.every(10, () => count++);
		const stopAfter = clock.after(15, () => (count += 100));
		vi.advanceTimersByTime(12);
		stop();
		stopAfter();
		vi.advanceTimersByTime(100);
		expect(count).toBe(1);
	});
});

describe('ids from a seed', () => {
	it('are 32 hex digits, the same for one seed, others for another', () => {
		const [a, b, c] = [seededChance(7), seededChance(7), seededChance(8)];
		const ids = [a.id(), a.id()];
		expect([b.id(), b.id()]).toEqual(ids);
		expect(c.id()).not.toBe(ids[0]);
		expect(ids[1]).not.toBe(ids[0]);
		for (const id of ids) expect(id).toMatch(/^[0-9a-f]{32}$/);
	});
});
