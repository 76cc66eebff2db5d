/**
 * How fast a beam removes or adds material, per charge: defaults to begin with, each with its range and where it is from. Ga⁺ at
 * 30 keV and normal incidence unless a row says otherwise. Grain, angle, redeposition and gas change them by more than their own
 * error: they are there to be replaced by one's own measured cuts (calibration.ts).
 */
export interface RateRow {
	readonly id: string;
	readonly process: 'mill' | 'ion deposit' | 'electron deposit';
	readonly material: string;
	/** m³/C; `least` and `most` span what is told of it. */
	readonly rate: number;
	readonly least: number;
	readonly most: number;
	/** True where the value itself is from memory, with no copy at hand: a person who knows the work must confirm it. */
	readonly fromMemory: boolean;
	/** Current density in which the deposit grows, A/m² (= pA/µm²), where one is known. */
	readonly window?: { readonly least: number; readonly most: number };
}

/** 1 µm³/nC in m³/C. */
const perNanocoulomb = 1e-9;

const mill = (id: string, rate: number, least: number, most: number, fromMemory = false): RateRow => ({
	id,
	process: 'mill',
	material: id,
	rate: rate * perNanocoulomb,
	least: least * perNanocoulomb,
	most: most * perNanocoulomb,
	fromMemory
});

const deposit = (id: string, process: 'ion deposit' | 'electron deposit', material: string, least: number, rate: number, most: number): RateRow => ({
	...mill(id, rate, least, most, true),
	process,
	material
});

/**
 * Where each row is from; told to people by the messages `rate_source_…`, which say the same. Liao: Practical Electron Microscopy and
 * Database, online book, table 2455. Eckstein: in Sputtering by Particle Bombardment (Springer 2007), fits as tabulated in a public
 * plasma–surface data base. Yamamura & Tawara (1996): formula from memory, 1.3–1.7 × too high elsewhere. No spread is told for rows of
 * one source: a quarter either way is our own guess.
 */
export const rateRows: readonly RateRow[] = [
	// 0.27 common practice, from memory; 0.15: Liao
	mill('Si', 0.27, 0.15, 0.27, true),
	// Liao
	mill('SiO2', 0.19, 0.14, 0.24),
	mill('Si3N4', 0.21, 0.16, 0.26),
	// 0.37: Liao; 0.28: derived from Eckstein, Ga between Ar and Kr by mass
	mill('Al', 0.37, 0.28, 0.37),
	// Liao
	mill('Cr', 0.28, 0.21, 0.35),
	mill('Au', 1.8, 1.35, 2.25),
	// derived from Eckstein: Ge on Ge 4.3, Kr on Ge 4.6 as a proxy
	mill('GaAs', 0.62, 0.61, 0.64),
	// derived from Eckstein: Ni on Ni 4.5 as a proxy
	mill('steel', 0.32, 0.31, 0.34),
	// from memory, scaled from Ni; below 0.55: derived from Eckstein; less in channelling grains (lower end guessed)
	mill('Cu', 0.42, 0.25, 0.55, true),
	// scaled to Ga from Ar on W 2.2 (Eckstein), > 0.22; upper end guessed
	mill('W', 0.35, 0.22, 0.45),
	// derived, weak: Yamamura & Tawara
	mill('C', 0.1, 0.06, 0.1, true),
	// derived, weak: at most 1.1 by Yamamura & Tawara
	mill('Pt', 0.75, 0.65, 1.1, true),
	// from memory, weak; window from memory: above it the beam mills (Loeber et al., Beilstein J. Nanotechnol. 16 (2025) 910; memory)
	{ ...deposit('Pt-ion', 'ion deposit', 'Pt', 0.3, 0.5, 0.8), window: { least: 2, most: 6 } },
	// from memory, weak; about 0.1 also from Córdoba et al., Sci. Rep. (2019), with a 30 nm layer (memory); window weak: same order to tens
	{ ...deposit('W-ion', 'ion deposit', 'W', 0.05, 0.1, 0.15), window: { least: 2, most: 30 } },
	// from memory, weak; window weak: same order to tens
	{ ...deposit('C-ion', 'ion deposit', 'C', 0.1, 0.25, 0.5), window: { least: 2, most: 30 } },
	// from memory, order only
	deposit('Pt-electron', 'electron deposit', 'Pt', 0.002, 0.006, 0.02),
	deposit('C-electron', 'electron deposit', 'C', 0.002, 0.006, 0.02)
];

const byId = new Map(rateRows.map((row) => [row.id, row]));

export const rateRow = (id: string): RateRow | undefined => byId.get(id);
