import { render, screen } from '@testing-library/svelte';
import userEvent from '@testing-library/user-event';
import { describe, expect, it, vi } from 'vitest';
import ConfirmPanel from './ConfirmPanel.svelte';
import HeardLine from './HeardLine.svelte';
import Keypad from './Keypad.svelte';
import MoreCommands from './MoreCommands.svelte';
import PartsList from './PartsList.svelte';
import ScanRing from './ScanRing.svelte';
import SignalBanner from './SignalBanner.svelte';
import StepPanel from './StepPanel.svelte';
import TimeLine from './TimeLine.svelte';
import WayOn from './WayOn.svelte';

const beside = [{ id: 'back', label: 'Step back' }, { id: 'trouble', label: 'Trouble', not: 'none here' }];

describe('the way on', () => {
	it('calls back once a press, and the others by their id', async () => {
		const [onpress, onbeside] = [vi.fn(), vi.fn()];
		render(WayOn, { label: 'Next', onpress, beside, onbeside });
		await userEvent.click(screen.getByRole('button', { name: 'Next' }));
		await userEvent.click(screen.getByRole('button', { name: 'Step back' }));
		expect(onpress).toHaveBeenCalledTimes(1);
		expect(onbeside.mock.calls).toEqual([['back']]);
	});
	it('says why it can’t be pressed, stays reachable and does nothing', async () => {
		const onpress = vi.fn();
		render(WayOn, { label: 'Next', not: 'Answer above', onpress, beside, onbeside: vi.fn() });
		const on = screen.getByRole('button', { name: 'Answer above' });
		await userEvent.click(on);
		expect(on.getAttribute('aria-disabled')).toBe('true');
		expect(on.hasAttribute('disabled')).toBe(false);
		expect(onpress).not.toHaveBeenCalled();
	});
});

describe('the step', () => {
	it('offers every answer of a check with its key, all of one rank', async () => {
		const onanswer = vi.fn();
		const answers = [{ id: 'yes', answer: 'Centred', key: '1' }, { id: 'off', answer: 'Off centre', key: '2' }, { id: 'gone', answer: 'Not seen', not: 'not in this view' }];
		render(StepPanel, { step: { kind: 'check', text: 'Is it centred?', look: 'Cross lines.', answers }, onanswer });
		const buttons = screen.getAllByRole('button');
		expect(buttons.map((button) => button.textContent?.replace(/\s+/g, ' ').trim())).toEqual(['1 Centred', '2 Off centre', 'Not seennot in this view']);
		expect(new Set(buttons.map((button) => button.classList.contains('answer')))).toEqual(new Set([true]));
		for (const button of buttons) await userEvent.click(button);
		expect(onanswer.mock.calls).toEqual([['yes'], ['off']]);
	});
	it('echoes a reading with a question, and lets a taken one be given again', async () => {
		const onreading = vi.fn();
		render(StepPanel, {
			step: { kind: 'reading', text: 'Measure.', look: '', readings: [{ id: 'l', name: 'left gap', unit: 'nm', text: '348', state: 'taken' }, { id: 'r', name: 'right gap', unit: 'nm', text: '12', state: 'echoed', odd: 'Unusual.' }] },
			onreading
		});
		expect(screen.getByText('?')).toBeTruthy();
		expect(screen.getByText('Unusual.')).toBeTruthy();
		await userEvent.click(screen.getByRole('button', { name: 'left gap 348 nm, give it again' }));
		expect(onreading).toHaveBeenCalledWith('l');
	});
	it('counts a wait down, and up again once it is over', async () => {
		const step = { kind: 'wait' as const, text: 'Wait.', look: '', forMs: 120_000 };
		const { rerender } = render(StepPanel, { step: { ...step, leftMs: 73_400 } });
		expect(screen.getByRole('timer').textContent).toContain('1:14');
		await rerender({ step: { ...step, leftMs: -21_000 } });
		expect(screen.getByRole('timer').textContent).toMatch(/Time is up.*0:21 ago/s);
	});
	it('says round, tolerance and move of an adjust loop', () => {
		render(StepPanel, {
			step: { kind: 'adjust', text: 'Make both gaps equal.', look: '', round: 4, rounds: 4, tolerance: { value: '100', unit: 'nm' }, move: { words: ['Probe X left 182 nm.', '182 nm off.'], shares: [4.1, 1.82] }, readings: [] }
		});
		expect(screen.getByText(/round 4 of 4, last round/)).toBeTruthy();
		expect(screen.getByText('within 100 nm is right')).toBeTruthy();
		expect(screen.getByText('Probe X left 182 nm.')).toBeTruthy();
	});
});

// ANSI Z535.4 (from memory): words in capitals; the alert symbol for injury only, so not with NOTICE
describe('signal words', () => {
	it.each([['danger', 'DANGER', true], ['warning', 'WARNING', true], ['caution', 'CAUTION', true], ['notice', 'NOTICE', false]] as const)('%s', (signal, word, symbol) => {
		const { container } = render(SignalBanner, { hazard: { signal, what: 'This can happen.', avoid: 'So keep clear.' } });
		expect(screen.getByText(word)).toBeTruthy();
		expect(container.querySelector('svg') !== null).toBe(symbol);
		expect(screen.getByRole('note').textContent).toMatch(/This can happen\.\s+So keep clear\./);
	});
});

describe('the keypad', () => {
	it('gives every key by name, and sends only what is there', async () => {
		const onkey = vi.fn();
		const { rerender } = render(Keypad, { onkey, canSend: false });
		for (const name of ['1', '0', 'point', 'minus', 'correct', 'send it']) await userEvent.click(screen.getByRole('button', { name }));
		expect(onkey.mock.calls.flat()).toEqual(['1', '0', '.', '-', 'correct']);
		await rerender({ onkey, canSend: true });
		await userEvent.click(screen.getByRole('button', { name: 'send it' }));
		expect(onkey).toHaveBeenLastCalledWith('send');
	});
	it('leaves out what this reading does not take', () => {
		render(Keypad, { onkey: vi.fn(), canSend: true, minus: false, point: false, send: false });
		expect(screen.getAllByRole('button').map((button) => button.textContent?.trim())).toEqual(['1', '2', '3', 'correct', '4', '5', '6', '7', '8', '9', '0']);
	});
});

describe('what is true and what is heard', () => {
	it('lists parts that matter first and writes "not known" out', () => {
		render(PartsList, { parts: [{ id: 'a', name: 'gas needle', is: 'out' }, { id: 'b', name: 'probe', is: 'in', matters: true }, { id: 'c', name: 'lamella', is: 'unknown', unknown: true }] });
		expect(screen.getAllByRole('term').map((term) => term.textContent)).toEqual(['probe', 'gas needle', 'lamella']);
		expect(screen.getAllByRole('definition').map((definition) => definition.textContent)).toEqual(['in', 'out', 'not known']);
	});
	it('says what can be said, and marks what was heard unsurely', () => {
		const { container } = render(HeardLine, { ears: { listening: true, canSay: ['next', 'step back'], heard: { words: 'necks', sure: false } } });
		expect(container.textContent).toMatch(/Listening\. You can say.*next.*step back.*heard, but not surely.*“necks”/s);
	});
	it('says that only the operator is listened to, and of somebody else’s word that it was not counted', () => {
		const { container } = render(HeardLine, { ears: { listening: true, only: true, canSay: ['next'], heard: { words: 'next', sure: false, foreign: true } } });
		expect(container.textContent).toMatch(/Listening to you only\..*Not your voice, not counted: “next”\. If it was you, say it again\./);
	});
	it('says that it does not listen', () => {
		const { container } = render(HeardLine, { ears: { listening: false, canSay: ['next'] } });
		expect(container.textContent?.trim()).toBe('Not listening.');
	});
	it('says the times in one line', () => {
		const { container } = render(TimeLine, { times: { step: 9, of: 17, inStepMs: 42_000, stageLeftMs: 840_000, visitLeftMs: 4_800_000, fits: 0.91, bookingLeftMs: 3 * 3_600_000 } });
		expect([...container.querySelectorAll('span')].map((span) => span.textContent)).toEqual(['step 9 of 17', '0:42', '14 min to go in this stage', '1 h 20 min left in the visit, 9 in 10 that it fits']);
	});
	it('shows pauses and what was not measured apart', () => {
		const { container } = render(TimeLine, { times: { step: 1, of: 2, inStepMs: 0, stageLeftMs: -300_000, visitLeftMs: null, fits: null, bookingLeftMs: null, pausedMs: 360_000, unmeasuredMs: 180_000 } });
		expect(container.textContent).toMatch(/stage 5 min longer than usual.*paused 6 min.*3 min not measured/s);
	});
});

describe('confirming, and everything else', () => {
	it('reads the step and what it sets back before it takes a confirmation', async () => {
		const [onconfirm, onrefuse] = [vi.fn(), vi.fn()];
		render(ConfirmPanel, { hazard: { signal: 'warning', what: 'Gas.', avoid: 'Vacuum.' }, step: 'Insert the gas needle.', sets: [{ name: 'gas needle', is: 'in' }], onconfirm, onrefuse });
		expect(screen.getByRole('region').textContent).toMatch(/WARNING.*Gas\..*Insert the gas needle\..*Then true.*gas needle.*in/s);
		await userEvent.click(screen.getByRole('button', { name: 'Not now' }));
		await userEvent.click(screen.getByRole('button', { name: 'I confirm' }));
		expect([onrefuse.mock.calls.length, onconfirm.mock.calls.length]).toEqual([1, 1]);
	});
	it('leaves its targets to the way on where none are asked for', () => {
		render(ConfirmPanel, { hazard: { signal: 'warning', what: 'Gas.', avoid: 'Vacuum.' }, step: 'Insert.', sets: [] });
		expect(screen.queryAllByRole('button')).toEqual([]);
	});
	it('names the other ways to each command, or why not', async () => {
		const oncommand = vi.fn();
		render(MoreCommands, { commands: [{ id: 'note', label: 'Make a note', said: 'make a note', key: 'M' }, { id: 'skip', label: 'Skip', not: 'This step can’t be skipped.' }], oncommand });
		await userEvent.click(screen.getByRole('button', { name: /Make a note say “make a note” or press M/ }));
		await userEvent.click(screen.getByRole('button', { name: /can’t be skipped/ }));
		expect(oncommand.mock.calls).toEqual([['note']]);
	});
	it('lights one command of the ring after another, around its end', async () => {
		const onpick = vi.fn();
		const ring = [{ id: 'a', label: 'Say it again' }, { id: 'b', label: 'Time left' }, { id: 'c', label: 'Make a note' }];
		const { rerender } = render(ScanRing, { ring, at: 2, onpick });
		expect(screen.getByRole('button').textContent).toBe('Make a note');
		await rerender({ ring, at: 3, onpick });
		await userEvent.click(screen.getByRole('button', { name: 'Say it again' }));
		expect(onpick).toHaveBeenCalledWith('a');
	});
});
