/** Eigenvoices from Speech Commands, without the speakers of some folds. */
import type { EigenvoicesNumbers } from '$lib/voice/operator/eigenvoices';
import { chanceFrom } from '../random';
import { fitEigenvoices } from './fit';
import { groupedBy } from './grouped';
import type { heardAsRecorded } from './hearings';

export type Learned = NonNullable<ReturnType<typeof heardAsRecorded>>;

const SEED = 1;

export function eigenvoicesWithout(folds: readonly number[], words: readonly Learned[]): EigenvoicesNumbers {
	const used = words.filter(({ recording }) => recording.source === 'speech-commands' && !folds.includes(recording.fold));
	const people = groupedBy(used, ({ recording }) => recording.speaker);
	// a word is heard twice, without and with noise: each counts half
	return fitEigenvoices([...people.values()].map((all) => all.flatMap((one) => one.words.map((word) => word.cepstra))), 0.5, chanceFrom('voices', SEED, ...folds));
}
