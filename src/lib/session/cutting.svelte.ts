import { type CutDraft, type CuttingKept, type MeasuredKept, nothingKept, planOf } from '$lib/metrology/keptCuts';
import type { SettingsStore } from '$lib/ports/settings';
import { CUTTING_KEY } from './cutting-key';

/** What is kept of cuts on this device; nothing where nothing was kept yet. */
export const loadCutting = async (store: SettingsStore): Promise<CuttingKept> => ({ ...nothingKept, ...(await store.load<Partial<CuttingKept>>(CUTTING_KEY)) });

/** The plan of cuts and the own measured cuts, kept at every change. */
export interface Cutting {
	readonly kept: CuttingKept;
	readonly plan: ReturnType<typeof planOf>;
	/** Set where a change could not be kept. */
	readonly fault: string | null;
	/** Something was taken away that can be brought back. */
	readonly canUndo: boolean;
	begin(edition: string, cuts: readonly CutDraft[]): void;
	setCut(cut: CutDraft): void;
	removeCut(id: string): void;
	setMeasured(cut: MeasuredKept): void;
	removeMeasured(id: string): void;
	setBesides(seconds: number): void;
	undo(): void;
}

export function createCutting(store: SettingsStore, loaded: CuttingKept): Cutting {
	let kept = $state.raw(loaded);
	let before = $state.raw<CuttingKept | null>(null);
	let fault = $state<string | null>(null);
	const plan = $derived(planOf(kept));

	function keep(change: Partial<CuttingKept>): void {
		kept = { ...kept, ...change };
		store.save(CUTTING_KEY, kept).then(
			() => (fault = null),
			(thrown: unknown) => (fault = thrown instanceof Error ? thrown.message : String(thrown))
		);
	}
	const put = <T extends { readonly id: string }>(list: readonly T[], item: T): readonly T[] =>
		list.some(({ id }) => id === item.id) ? list.map((one) => (one.id === item.id ? item : one)) : [...list, item];
	const without = <T extends { readonly id: string }>(list: readonly T[], id: string): readonly T[] => list.filter((one) => one.id !== id);
	function take(change: Partial<CuttingKept>): void {
		before = kept;
		keep(change);
	}

	return {
		get kept() {
			return kept;
		},
		get plan() {
			return plan;
		},
		get fault() {
			return fault;
		},
		get canUndo() {
			return before !== null;
		},
		begin: (edition, cuts) => (kept.cuts.length > 0 ? take({ edition, cuts }) : keep({ edition, cuts })),
		setCut: (cut) => keep({ cuts: put(kept.cuts, cut) }),
		removeCut: (id) => take({ cuts: without(kept.cuts, id) }),
		setMeasured: (cut) => keep({ measured: put(kept.measured, cut) }),
		removeMeasured: (id) => take({ measured: without(kept.measured, id) }),
		setBesides: (besidesS) => keep({ besidesS }),
		undo() {
			if (before) keep(before);
			before = null;
		}
	};
}
