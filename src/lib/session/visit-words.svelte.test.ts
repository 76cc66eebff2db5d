import { describe, expect, it } from 'vitest';
import { plannedProcedure, runNow } from '$lib/run/ahead';
import { timelineOf } from '$lib/run/timeline';
import { createForecast } from '$lib/timing/forecast';
import { returnWarning } from '$lib/timing/return-warning';
import { smallVisit } from '../../../tests/fixtures/small-visit';
import { Walk } from '../../../tests/simulation/walk';
import { named } from './named';
import { spokenTime } from './time-words';
import { visitSentence } from './visit-words';
import { warningTexts } from './warning-words';

const MINUTE = 60_000;
const edition = smallVisit();
const leftMs = 90 * MINUTE;

/** A first run, without history, after some steps; the booking ends so long after this moment. */
function asked(steps: number, bookingLeftMs: number | null, after: (walk: Walk) => void = () => {}) {
	const walk = Walk.begin(edition, bookingLeftMs === null ? {} : { booking: { end: '2026-03-02T12:00:00+01:00' } });
	for (let i = 0; i < steps; i++) walk.next();
	after(walk);
	const { bookingEndAtMs: _, ...bare } = runNow(timelineOf(walk.events), walk.clock.now());
	const now = { ...bare, ...(bookingLeftMs === null ? {} : { bookingEndAtMs: bare.nowAtMs + bookingLeftMs }) };
	const forecast = createForecast(plannedProcedure(edition), []).forecast(now);
	return { walk, now, forecast, text: visitSentence(walk.state.status, forecast, { bookingLeftMs }), said: visitSentence(walk.state.status, forecast, { bookingLeftMs, time: spokenTime }) };
}

describe('F11 the sentence on what is left of the visit', () => {
	it('at the begin of a first run says that it rests on planned times', () => {
		const { text, said } = asked(0, 600 * MINUTE);
		expect(text).toMatch(/^(\d+ h )?\d+ min left in the visit, it fits almost surely\. No past run counts yet: these are planned times\.$/);
		expect(said).toMatch(/^(\d+ hours?( \d+ minutes)?|\d+ minutes) left in the visit, it fits almost surely\./);
	});
	it('without a booking speaks of none', () => expect(asked(3, null).text).not.toMatch(/fit|booking/));
	it('once the booking is past says since when, and speaks of no chance', () => {
		const { text, said } = asked(3, -25 * MINUTE);
		expect(text).toContain('left in the visit; the booking ended 25 min ago.');
		expect(said).toContain('left in the visit; the booking ended 25 minutes ago.');
		expect(text).not.toMatch(/fit/);
	});
	it('in a pause and while held says that the clock of the walk stands', () => {
		expect(asked(3, 600 * MINUTE, (walk) => walk.give({ id: 'pause' })).text).toMatch(/^Paused\. If the walk goes on now: .* left in the visit/);
		expect(asked(3, 600 * MINUTE, (walk) => walk.give({ id: 'stop' })).text).toMatch(/^Held\. If the walk goes on now: .* left in the visit/);
	});
	it('while the visit is being ended is that of the shortest safe way, after its end that it is over', () => {
		const ending = asked(7, 600 * MINUTE, (walk) => walk.sure({ id: 'endVisit', why: 'the sample charged (invented)' }));
		expect(ending.walk.state.ending).toBeTruthy();
		expect(ending.forecast.run.p50Ms).toBeGreaterThan(0);
		expect(ending.text).toMatch(/left in the visit/);
		const over = asked(7, 600 * MINUTE, (walk) => {
			walk.sure({ id: 'endVisit', why: 'the sample charged (invented)' });
			for (let i = 0; i < 20 && walk.state.status === 'running'; i++) walk.next();
		});
		expect(over.walk.state.status).toBe('aborted');
		expect(over.text).toBe('The visit is over.');
	});
	it('before anything is known says so', () => expect(visitSentence('running', null, {})).toBe('How long it will take is not known yet.'));
	it('never shows what is no number, wherever it is asked', () => {
		for (const booking of [null, -600 * MINUTE, -1, 0, 1, 20 * MINUTE, 600 * MINUTE])
			for (let steps = 0; steps < 16; steps++) {
				const { text, said, forecast, now } = asked(steps, booking);
				const warning = returnWarning(null, forecast, now.nowAtMs, 'return');
				const all = [text, said, ...(warning ? warningTexts(warning, named(edition, 'en'), now.nowAtMs) : [])].join(' ');
				expect(all, `${steps} steps, ${booking} ms`).not.toMatch(/NaN|Infinity|undefined|null|Invalid|-\d/);
			}
	});
});

describe('F7 the warning in words', () => {
	const { forecast } = asked(8, leftMs);
	const warning = { stage: 'return', kind: 'near', latestStartAtMs: Date.UTC(2026, 2, 2, 10), inTime: 0.6 } as const;
	const out = { stages: ['lift', 'pick'], left: forecast.run, fits: 0.93 };
	const told = (leaveOut: Parameters<typeof warningTexts>[0]['leaveOut'], nowAtMs = warning.latestStartAtMs - MINUTE) => warningTexts({ ...warning, leaveOut }, named(edition, 'en'), nowAtMs);
	it('tells what would make it fit, what only helps, and nothing where nothing does', () => {
		expect(told({ ...out, enough: true })[1]).toBe('Leaving out “lift” and “pick” would make the visit fit: 9 in 10.');
		expect(told({ ...out, fits: 0.6, enough: false })[1]).toBe('Leaving out “lift” and “pick” helps, but does not make it sure: 6 in 10 that it fits.');
		expect(told(null)).toHaveLength(1);
	});
	it('does not say “must” of a moment that is past', () => {
		expect(told(null)[0]).toContain('must begin by');
		expect(told(null, warning.latestStartAtMs + MINUTE)[0]).toContain('was to begin by');
	});
});
