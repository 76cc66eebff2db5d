import { calibrate, learnRedeposition, rateInUse, type MeasuredCut, type RateInUse } from './calibration';
import { planCuts, volumeM3, type Plan, type PlannedCut } from './plan';
import { rateRow, rateRows } from './rates';

/** Cuts as they are planned and measured on this device: what is kept, and what follows from it for the plan of a visit. */

interface Sized {
	readonly shape: 'box' | 'wedge';
	/** m and A; null: not given yet. */
	readonly lengthM: number | null;
	readonly widthM: number | null;
	/** Depth, or height of a deposit. */
	readonly depthM: number | null;
	readonly currentA: number | null;
	/** Id of a row of rates.ts. */
	readonly material: string;
	/** Deep and narrow: material falls back, and it takes longer than a flat cut of the same volume. */
	readonly deep: boolean;
}

/** A cut or deposit that is planned, as far as it is filled in. */
export interface CutDraft extends Sized {
	readonly id: string;
	readonly name: string;
	/** Step of the procedure that it is made in, and its stage. */
	readonly step: string;
	readonly stage: string;
	/** How often it is made. */
	readonly times: number;
}

/** A cut that was made and measured. */
export interface MeasuredKept extends Sized {
	readonly id: string;
	readonly timeS: number | null;
	/** RFC 3339. */
	readonly at: string;
	readonly by: string;
}

export interface CuttingKept {
	/** Edition that the drafts' steps belong to. */
	readonly edition: string;
	readonly cuts: readonly CutDraft[];
	readonly measured: readonly MeasuredKept[];
	/** Added to the beam time of each cut for setting it up, images and focus. */
	readonly besidesS: number;
}

/** One minute beside the beam for each cut: our own choice, a setting. */
export const nothingKept: CuttingKept = { edition: '', cuts: [], measured: [], besidesS: 60 };

const complete = ({ lengthM, widthM, depthM, currentA }: Sized): boolean => [lengthM, widthM, depthM, currentA].every((value) => value !== null && value > 0);
const shapeOf = ({ shape, lengthM, widthM, depthM }: Sized) => ({ kind: shape, lengthM: lengthM ?? 0, widthM: widthM ?? 0, depthM: depthM ?? 0 }) as const;

/** What was measured in full, as the calibration takes it. */
const measuredOf = (kept: readonly MeasuredKept[], material: string, deep: boolean): readonly MeasuredCut[] =>
	kept.flatMap((cut) =>
		cut.material === material && cut.deep === deep && complete(cut) && cut.timeS !== null && cut.timeS > 0
			? [{ volumeM3: volumeM3(shapeOf(cut)), currentA: cut.currentA ?? 0, timeS: cut.timeS }]
			: []
	);

/** The rate in use of a material: its row's default, replaced in steps by own flat cuts. Throws a RangeError for an unknown material. */
export function rateOf(material: string, kept: readonly MeasuredKept[]): RateInUse {
	const row = rateRow(material);
	if (!row) throw new RangeError(`there is no rate "${material}"; expected one of ${rateRows.map(({ id }) => id).join(', ')}`);
	return rateInUse(row, measuredOf(kept, material, false));
}

/** Own flat cuts of a material, for a prediction; null below two. */
export function calibrationOf(material: string, kept: readonly MeasuredKept[]) {
	const cuts = measuredOf(kept, material, false);
	return cuts.length < 2 ? null : calibrate(cuts);
}

/** Redeposition factor of deep cuts, learned from own ones; null until there are two of either kind. */
export function redepositionOf(material: string, kept: readonly MeasuredKept[]): { readonly factor: number; readonly uncertainty: number } | null {
	const [flat, deep] = [measuredOf(kept, material, false), measuredOf(kept, material, true)];
	return flat.length < 2 || deep.length < 2 ? null : learnRedeposition(calibrate(flat), calibrate(deep));
}

/** The plan of all drafts that are filled in. Drafts that are not are left out, and named. */
export function planOf({ cuts, measured }: CuttingKept): Plan & { readonly leftOut: readonly string[] } {
	const ready = cuts.filter((cut) => complete(cut) && cut.times >= 1);
	const planned = ready.map(
		(cut): PlannedCut => ({
			name: cut.name,
			stage: cut.stage,
			shape: shapeOf(cut),
			currentA: cut.currentA ?? 0,
			rate: cut.material,
			redeposition: cut.deep ? (redepositionOf(cut.material, measured)?.factor ?? 1) : 1,
			times: cut.times
		})
	);
	const rates = Object.fromEntries([...new Set(planned.map(({ rate }) => rate))].map((rate) => [rate, rateOf(rate, measured)]));
	return { ...planCuts(planned, rates), leftOut: cuts.filter((cut) => !ready.includes(cut)).map(({ name }) => name) };
}

/** Planned time in ms of each step that has cuts, for an edition: beam, and what goes beside it for each cut. */
export function stepTimesMs(kept: CuttingKept, edition: string): Readonly<Record<string, number>> {
	if (kept.edition !== edition) return {};
	const times: Record<string, number> = {};
	for (const draft of kept.cuts) {
		const plan = planOf({ ...kept, cuts: [draft] });
		if (plan.cuts.length === 0) continue;
		times[draft.step] = (times[draft.step] ?? 0) + 1000 * (plan.whole.beamS + kept.besidesS * draft.times);
	}
	return times;
}

const um = 1e-6;
const usual = (id: string, step: string, [l, w, d]: readonly [number, number, number], currentNa: number, material: string, shape: 'box' | 'wedge' = 'box', deep = false): CutDraft => ({
	id,
	name: '',
	step,
	stage: 'lift-out',
	shape,
	lengthM: l * um,
	widthM: w * um,
	depthM: d * um,
	currentA: currentNa * 1e-9,
	material,
	deep,
	times: 1
});

/**
 * The cuts and deposits of a usual lift-out from silicon, to begin a plan with: sizes and currents from memory, within the ranges
 * usual in the trade; to be replaced by one's own. Their names are given where they are shown.
 */
export const usualLiftOut: readonly CutDraft[] = [
	usual('usual-1', 'lift-out/electron-strap', [12, 2, 0.2], 2.5, 'Pt-electron'),
	usual('usual-2', 'lift-out/ion-strap', [12, 2, 1.5], 0.1, 'Pt-ion'),
	usual('usual-3', 'lift-out/trench-1', [20, 12, 8], 9, 'Si', 'wedge', true),
	usual('usual-4', 'lift-out/trench-2', [20, 10, 8], 9, 'Si', 'wedge', true),
	usual('usual-5', 'lift-out/clean-faces', [16, 2, 7], 2, 'Si'),
	usual('usual-6', 'lift-out/undercut', [12, 1, 2], 2, 'Si')
];
