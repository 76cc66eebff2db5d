import { describe, expect, it } from 'vitest';
import type { Allowed } from '$lib/run/allowed';
import { type CommandId, COMMANDS, commandById } from '$lib/run/commands';
import { meantByKey, meantByWords, sayable, type Situation, wayOn } from './inputs';

const outcome = (id: string) => ({ id, answer: { en: id }, set: [], go: [] });
function situation(ids: readonly CommandId[], more: Partial<Situation> = {}): Situation {
	const allowed = ids.map((id): Allowed => ({ id, row: commandById[id], ...(id === 'answer' ? { answers: [outcome('centred'), outcome('off')] } : {}) }));
	return { allowed, asking: false, confirming: false, number: null, scanning: false, ...more };
}
const key = (name: string) => ({ key: name, kind: 'key' }) as const;
const press = { key: 'F8', kind: 'pedal press' } as const;

describe('keys, pedal and words reach one table of commands', () => {
	it('every command of the table that has a key is reached by each of its keys when it alone is allowed', () => {
		for (const row of COMMANDS.filter(({ id }) => id !== 'digits' && id !== 'answer'))
			for (const name of row.keys) {
				const meant = meantByKey(key(name), situation([row.id]));
				expect(meant && ('command' in meant ? meant.command.id : 'open' in meant ? meant.open : null), `${row.id} by ${name}`).toBe(row.id);
			}
	});
	it('a key whose command is not allowed now means nothing', () => expect(meantByKey(key('p'), situation(['next']))).toBeNull());
	it('a number key answers where answers are offered', () =>
		expect(meantByKey(key('2'), situation(['answer']))).toEqual({ command: { id: 'answer', outcome: 'off' } }));
	it('digits go into the number while one is asked for, and Enter sends it', () => {
		const now = situation(['digits', 'back'], { number: { begun: true } });
		expect(meantByKey(key('4'), now)).toEqual({ token: '4', raw: '4' });
		expect(meantByKey(key('Backspace'), now)).toEqual({ token: 'correct', raw: 'Backspace' });
		expect(meantByKey(key('Enter'), now)).toEqual({ send: true });
	});
	it('Backspace takes a step back while no digit stands', () =>
		expect(meantByKey(key('Backspace'), situation(['digits', 'back'], { number: { begun: false } }))).toEqual({ command: { id: 'back' } }));
	it('the pedal says yes, confirms, sends, resumes or goes on, in this order, else it opens the ring', () => {
		expect(wayOn(situation(['next'], { asking: true }))).toEqual({ command: { id: 'yes' } });
		expect(wayOn(situation(['next', 'confirm'], { confirming: true }))).toEqual({ command: { id: 'confirm' } });
		expect(wayOn(situation(['digits'], { number: { begun: true } }))).toEqual({ send: true });
		expect(meantByKey(press, situation(['resume']))).toEqual({ command: { id: 'resume' } });
		expect(meantByKey(press, situation(['next']))).toEqual({ command: { id: 'next' } });
		expect(meantByKey(press, situation(['answer']))).toEqual({ scan: 'begin' });
	});
	it('while the ring is scanned any press takes what is lit', () =>
		expect(meantByKey(press, situation(['next'], { scanning: true }))).toEqual({ scan: 'take' }));
	it('words: a digit counts only while a reading is asked for', () => {
		expect(meantByWords('four', situation(['next']), 'en', (id) => id)).toBeNull();
		expect(meantByWords('four', situation(['digits'], { number: { begun: false } }), 'en', (id) => id)).toEqual({ token: '4', raw: 'four' });
	});
	it("words: the step's own answers go before commands", () =>
		expect(meantByWords('Centred', situation(['answer', 'next']), 'en', (id) => id)).toEqual({ command: { id: 'answer', outcome: 'centred' } }));
	it('words: an answer is also said by its place, and none beyond the last', () => {
		const now = situation(['answer', 'next']);
		expect(meantByWords('answer two', now, 'en', (id) => id)).toEqual({ command: { id: 'answer', outcome: 'off' } });
		expect(meantByWords('answer three', now, 'en', (id) => id)).toBeNull();
		expect(meantByWords('answer one', situation(['next']), 'en', (id) => id)).toBeNull();
	});
	it('words: a sheet that stands open is answered by its numbers, and "next" does not walk on behind it', () => {
		const now = situation(['answer', 'next', 'digits', 'stop'], { sheet: { numbered: 1 }, number: { begun: false } });
		const meant = (words: string) => meantByWords(words, now, 'en', (id) => id);
		expect(meant('answer one')).toEqual({ place: 0 });
		expect(meant('answer two')).toBeNull();
		expect(meant('next')).toEqual({ further: true });
		expect(meant('no')).toEqual({ open: null });
		expect(meant('four')).toBeNull();
		expect(meant('stop')).toEqual({ command: { id: 'stop' } });
		expect(sayable(now, 'en', (id) => id)).toEqual(['answer one', 'next', 'no', 'negative', 'stop']);
	});
	it('words: "yes" is no word while a hazard waits for its own phrase, and is one for another question', () => {
		const said = (asking: boolean) => sayable(situation(['yes', 'confirm', 'stop'], { confirming: true, asking }), 'en', (id) => id);
		expect(said(false)).toEqual(['I confirm', 'stop']);
		expect(said(true)).toEqual(['yes', 'I confirm', 'stop']);
	});
	it('words: only what can be said is open: digits while a reading is asked for, as many places as answers', () => {
		expect(sayable(situation(['answer', 'next', 'digits']), 'en', (id) => id)).toEqual(['centred', 'off', 'answer one', 'answer two', 'next']);
		expect(sayable(situation(['digits'], { number: { begun: false } }), 'en', (id) => id)).toContain('seven');
	});
});
