import type { Lamella, Ledger, Tip } from './ledger';

/** A label for a box: our own id, which is all that its code holds, and what it stands for. */
export type Label = { readonly id: string } & ({ readonly kind: 'tip'; readonly tip: Tip } | { readonly kind: 'lamella'; readonly lamella: Lamella });

/** Labels of everything that can lie in a box: tips that were not lost, newest first, then lamellae that were not. */
export function labelsOf({ tips, lamellae }: Ledger): readonly Label[] {
	return [
		...tips
			.filter(({ now }) => now !== 'lost')
			.map((tip): Label => ({ kind: 'tip', id: `tip:${tip.id}`, tip }))
			.reverse(),
		...lamellae
			.filter(({ fared }) => fared !== 'lost')
			.map((lamella): Label => ({ kind: 'lamella', id: `lamella:${lamella.run.slice(0, 8)}`, lamella }))
			.reverse()
	];
}
