/** Synthetic speakers: Debian's espeak-ng, flite and festival. Some are held back, to measure false commands with. */

export interface Voice {
	readonly engine: 'espeak' | 'flite' | 'festival';
	readonly name: string;
	/** Never used in training. */
	readonly heldBack: boolean;
}

const ACCENTS = ['en-us', 'en-gb', 'en-gb-x-rp', 'en-gb-scotland', 'en-gb-x-gbclan', 'en-gb-x-gbcwmd', 'en-029', 'en-us-nyc'];
const VARIANTS = [
	'm1', 'm2', 'm3', 'm4', 'm5', 'm6', 'm7', 'm8', 'f1', 'f2', 'f3', 'f4', 'f5', 'klatt', 'klatt2', 'klatt3', 'klatt4', 'klatt6',
	'adam', 'Alex', 'Alicia', 'Andrea', 'Andy', 'Annie', 'antonio', 'aunty', 'belinda', 'benjamin', 'boris', 'caleb', 'david',
	'Denis', 'Diogo', 'ed', 'edward', 'Gene', 'grandma', 'grandpa', 'gustave', 'Hugo', 'iven', 'iven2', 'Jacky', 'john', 'Lee',
	'linda', 'marcelo', 'Marco', 'Mario', 'max', 'Michael', 'michel', 'miguel', 'Nguyen', 'norbert', 'pablo', 'paul', 'pedro',
	'quincy', 'rob', 'robert', 'sandro', 'shelby', 'steph', 'steph2', 'travis', 'victor', 'zac', 'anika'
];
const HELD_VARIANTS = new Set(['f5', 'm8', 'linda', 'pedro', 'steph2', 'Michael', 'belinda', 'rob', 'zac', 'Andy']);

/** Each accent with eight variants in turn, so that every variant occurs and no engine outweighs the rest by number alone. */
function espeakVoices(): Voice[] {
	return ACCENTS.flatMap((accent, row) =>
		VARIANTS.filter((_, column) => (column + row) % 3 === 0).map((variant) => ({
			engine: 'espeak' as const,
			name: `${accent}+${variant}`,
			heldBack: HELD_VARIANTS.has(variant)
		}))
	);
}

export const VOICES: readonly Voice[] = [
	...espeakVoices(),
	...['kal16', 'awb', 'slt', 'rms'].map((name) => ({ engine: 'flite' as const, name, heldBack: name === 'rms' })),
	...['kal_diphone', 'cmu_us_slt_arctic_hts', 'ked_diphone'].map((name) => ({
		engine: 'festival' as const,
		name,
		heldBack: name === 'ked_diphone'
	}))
];
