import type { RingTarget } from '$lib/session/ring.svelte';

/**
 * The targets that are on the screen now, in reading order: those of the sheet that stands on top, else of the walk.
 * `data-scan="stay"` marks targets after which the ring goes on (digits), `data-scan="first"` what is lit first (sending them),
 * `data-scan="last"` what comes last (closing a sheet).
 */
export function screenTargets(page: Document): readonly RingTarget[] {
	const roots = page.querySelectorAll('[data-scan-root]');
	const root = roots[roots.length - 1];
	if (!root) return [];
	const buttons = [...root.querySelectorAll<HTMLElement>('button, a[href], input[type="radio"]')];
	const open = buttons.filter((element) => element.checkVisibility() && !element.hasAttribute('disabled') && element.getAttribute('aria-disabled') !== 'true');
	const rank = (element: HTMLElement) => (element.closest('[data-scan="first"]') ? 0 : element.closest('[data-scan="last"]') ? 2 : 1);
	return open.sort((a, b) => rank(a) - rank(b)).map(targetOf);
}

const targetOf = (element: HTMLElement): RingTarget => ({
	label: element.getAttribute('aria-label') ?? (element.closest('label') ?? element).textContent?.replace(/\s+/g, ' ').trim() ?? '',
	stays: element.closest('[data-scan="stay"]') !== null,
	light() {
		element.focus({ preventScroll: false });
		element.scrollIntoView({ block: 'nearest' });
	},
	dim: () => element.blur(),
	press: () => element.click(),
	number(is) {
		const { dataset } = element.closest('label') ?? element;
		if (is === null) delete dataset['place'];
		else dataset['place'] = String(is);
	}
});
