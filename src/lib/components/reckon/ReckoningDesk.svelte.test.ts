import { render, screen } from '@testing-library/svelte';
import userEvent from '@testing-library/user-event';
import { describe, expect, it } from 'vitest';
import { reckonings, reckoningNamed } from '$lib/metrology/registry';
import { createDesk, type KnownSettings } from '$lib/session/reckoning-desk.svelte';
import ReckoningDesk from './ReckoningDesk.svelte';

function show(name: string, settings: KnownSettings = {}) {
	const reckoning = reckoningNamed(name);
	if (!reckoning) throw new Error(`no reckoning ${name}`);
	return render(ReckoningDesk, { desk: createDesk(reckoning, () => settings) });
}

describe('the desk on screen', () => {
	it.each(reckonings.map(({ name }) => name))('shows "%s" with nothing given, and says what is missing', (name) => {
		const { container } = show(name);
		expect(container.innerHTML).not.toMatch(/NaN|Infinity|undefined/);
		expect(screen.getByText(/^Still to be given: /)).toBeTruthy();
	});
	it('takes a reading from the keypad, and one from the drawing by arrow keys', async () => {
		show('half-difference', { sign: '+' });
		for (const key of ['1', '2', 'next', '8']) await userEvent.click(screen.getByRole('button', { name: key }));
		expect(screen.getByText('Probe X right 2 µm, then look again.')).toBeTruthy();
		const jaw = screen.getByRole('slider', { name: 'Move the right jaw' });
		expect(jaw.getAttribute('aria-valuetext')).toBe('8 µm');
		jaw.focus();
		// jsdom measures nothing: 400 px wide, the larger gap on 80 px, so a pixel is 0.15 µm
		await userEvent.keyboard('{Shift>}{ArrowRight}{/Shift}{ArrowRight}');
		expect(screen.getByRole<HTMLInputElement>('textbox', { name: 'right gap' }).value).toBe('9.65');
	});
	it('draws error and move of the ion view, and says them', async () => {
		show('height-from-ion-shift', { columnAngle: (52 * Math.PI) / 180, sign: '+', raises: '+' });
		await userEvent.type(screen.getByRole('textbox', { name: /^above/ }), '30');
		expect(screen.getByText('Stage Z down 38.1 µm, then look again.')).toBeTruthy();
		expect(screen.getByRole('img').getAttribute('aria-label')).toMatch(/Ion view: feature 30 µm up. The picture shall go 30 µm down in the ion view/);
	});
	it('asks instead of saying where the move is beyond the limit', async () => {
		show('half-difference', { sign: '+', limit: 1e-6 });
		await userEvent.type(screen.getByRole('textbox', { name: 'left gap' }), '12');
		await userEvent.type(screen.getByRole('textbox', { name: 'right gap' }), '8');
		expect(screen.getByText(/more than the limit set for it/)).toBeTruthy();
		expect(screen.queryByText(/then look again/)).toBeNull();
	});
});
