import * as m from '$lib/paraglide/messages';
import type { ParameterSpec, Values } from './parameters';

/** Where the lamella is and what holds it, from the untouched sample to the grid's post. */
export const lamellaSpec: Readonly<Record<string, ParameterSpec>> = {
	lamella: {
		kind: 'choice',
		options: {
			bulk: ['in the bulk', 'in bulk', 'in the sample', 'sample'],
			strapped: [],
			trenched: [],
			undercut: [],
			'bulk and tip': ['fast to bulk and tip'],
			tip: ['on the tip', 'on tip', 'lifted'],
			'tip and post': ['fast to tip and post', 'touches', 'at the post'],
			grid: ['on the grid', 'on grid', 'on the post', 'welded'],
			lost: [],
			unknown: ['not known']
		},
		default: 'unknown'
	},
	probe: { kind: 'choice', options: { in: ['at'], out: ['away'], unknown: [] }, default: 'out' },
	gas: { kind: 'choice', options: { in: ['at'], out: ['away'], unknown: [] }, default: 'out' }
};

export type Lamella = 'bulk' | 'strapped' | 'trenched' | 'undercut' | 'bulk and tip' | 'tip' | 'tip and post' | 'grid' | 'lost' | 'unknown';

export interface LamellaShown {
	readonly where: Lamella;
	/** What has been done to the sample: strap on it, trenches beside it, cut beneath. */
	readonly strap: boolean;
	readonly trench: boolean;
	readonly undercut: boolean;
	/** Still in the sample; on the needle; at the post. */
	readonly inSample: boolean;
	readonly onNeedle: boolean;
	readonly atPost: boolean;
	readonly probeIn: boolean;
	readonly gasIn: boolean;
}

const stagesOfWork: readonly Lamella[] = ['bulk', 'strapped', 'trenched', 'undercut', 'bulk and tip'];

/** What the drawing shows for these values. */
export function lamellaShown({ choices }: Values): LamellaShown {
	const where = (choices.lamella ?? 'unknown') as Lamella;
	const done = stagesOfWork.indexOf(where);
	return {
		where,
		strap: done !== 0 && where !== 'unknown',
		trench: (done === -1 && where !== 'unknown') || done >= 2,
		undercut: (done === -1 && where !== 'unknown') || done >= 3,
		inSample: done >= 0,
		onNeedle: where === 'bulk and tip' || where === 'tip' || where === 'tip and post',
		atPost: where === 'tip and post' || where === 'grid',
		probeIn: choices.probe === 'in' || where === 'bulk and tip' || where === 'tip' || where === 'tip and post',
		gasIn: choices.gas === 'in'
	};
}

const places: Readonly<Record<Lamella, () => string>> = {
	bulk: m.drawing_lamella_bulk,
	strapped: m.drawing_lamella_strapped,
	trenched: m.drawing_lamella_trenched,
	undercut: m.drawing_lamella_undercut,
	'bulk and tip': m.drawing_lamella_bulk_and_tip,
	tip: m.drawing_lamella_tip,
	'tip and post': m.drawing_lamella_tip_and_post,
	grid: m.drawing_lamella_grid,
	lost: m.drawing_lamella_lost,
	unknown: m.drawing_lamella_unknown
};

/** Where it is, in a few words. */
export const lamellaWhere = (values: Values): string => places[lamellaShown(values).where]();

export function lamellaAlt(values: Values): string {
	const { where, probeIn, gasIn } = lamellaShown(values);
	const said = where === 'unknown' ? m.drawing_lamella_unknown_alt() : m.drawing_lamella_alt({ where: lamellaWhere(values) });
	return [said, ...(probeIn ? [m.drawing_probe_in_alt()] : []), ...(gasIn ? [m.drawing_gas_in_alt()] : [])].join(' ');
}
