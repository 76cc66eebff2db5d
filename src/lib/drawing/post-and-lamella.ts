import * as m from '$lib/paraglide/messages';
import type { ParameterSpec, Values } from './parameters';

/** Where the lamella is, from the sample to the grid's post, seen from the side as the electron beam shows it when tilted. */
export const lamellaSpec: Readonly<Record<string, ParameterSpec>> = {
	lamella: {
		kind: 'choice',
		options: {
			bulk: ['in the bulk', 'in bulk', 'in the sample', 'sample'],
			tip: ['on the tip', 'on tip', 'lifted'],
			touching: ['at the post', 'touches'],
			grid: ['on the grid', 'on grid', 'on the post', 'welded'],
			lost: [],
			unknown: ['not known']
		},
		default: 'unknown'
	},
	/** Where the probe's tip is: at the lamella, or away. */
	probe: { kind: 'choice', options: { in: ['at'], out: ['away'] }, default: 'out' }
};

const places: Readonly<Record<string, () => string>> = {
	bulk: m.drawing_lamella_bulk,
	tip: m.drawing_lamella_tip,
	touching: m.drawing_lamella_touching,
	grid: m.drawing_lamella_grid,
	lost: m.drawing_lamella_lost,
	unknown: m.drawing_lamella_unknown
};

/** Where it is, in a word or two. */
export const lamellaWhere = ({ choices }: Values): string => (places[choices.lamella ?? 'unknown'] ?? m.drawing_lamella_unknown)();

export function lamellaAlt(values: Values): string {
	const { lamella } = values.choices;
	if (lamella === 'lost') return m.drawing_lamella_lost_alt();
	if (lamella === undefined || lamella === 'unknown') return m.drawing_lamella_unknown_alt();
	return m.drawing_lamella_alt({ where: lamellaWhere(values) });
}
