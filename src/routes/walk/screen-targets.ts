import type { RingTarget } from '$lib/session/ring.svelte';

/**
 * The targets that are on the screen now, in reading order: those of the sheet that stands on top, else of the walk.
 * `data-scan="stay"` marks targets after which the ring goes on (digits), `data-scan="first"` what is lit first (sending them).
 */
export function screenTargets(page: Document): readonly RingTarget[] {
	const roots = page.querySelectorAll('[data-scan-root]');
	const root = roots[roots.length - 1];
	if (!root) return [];
	const buttons = [...root.querySelectorAll<HTMLElement>('button, a[href], input[type="radio"]')];
	const open = buttons.filter((element) => element.checkVisibility() && !element.hasAttribute('disabled') && element.getAttribute('aria-disabled') !== 'true');
	const isFirst = (element: HTMLElement) => element.closest('[data-scan="first"]') !== null;
	return [...open.filter(isFirst), ...open.filter((element) => !isFirst(element))].map(targetOf);
}

const targetOf = (element: HTMLElement): RingTarget => ({
	label: element.getAttribute('aria-label') ?? (element.closest('label') ?? element).textContent?.replace(/\s+/g, ' ').trim() ?? '',
	stays: element.closest('[data-scan="stay"]') !== null,
	light() {
		element.focus({ preventScroll: false });
		element.scrollIntoView({ block: 'nearest' });
	},
	dim: () => element.blur(),
	press: () => element.click()
});
