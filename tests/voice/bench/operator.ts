/**
 * "Listen to this operator only", measured with the other speakers as neighbours: three takes of each word enrolled, the rest said, by
 * eigenvoices and weights that never met the operator or the neighbour. What is measured is the check alone: whether a word that was heard counts.
 */
import { TAKES } from '$lib/voice/enrolment';
import { Eigenvoices, type EigenvoicesNumbers, type Evidence } from '$lib/voice/operator/eigenvoices';
import { compared, operatorVoice, type OperatorVoice, weighed } from '$lib/voice/operator/operator-check';
import { takeVoice } from '$lib/voice/operator/take-voice';
import type { VoiceWeighing } from '$lib/voice/operator/voices';
import { chanceFrom } from '../random';
import { FOLDS, type Recording, wordRecordings } from '../recordings';
import { groupedBy } from '../voices/grouped';
import { allSpoken, heardAsRecorded, type Place, PLACES, type Room, ROOMS, type Spoken } from '../voices/hearings';
import { eigenvoicesWithout, type Learned } from '../voices/learn';
import { logistic, type Observation } from './logistic';
import { COMMANDS_RECORDED } from './weigh';

/** One word said while an operator is enrolled. */
export interface Said {
	readonly source: Recording['source'];
	readonly operator: string;
	readonly speaker: string;
	readonly place: Place;
	readonly room: Room;
	/** What the check weighs; null where no word stands out, which is nobody's. */
	readonly numbers: readonly number[] | null;
	/** Octaves between the operator's and the word's pitch; null where one is not known. */
	readonly pitchOff: number | null;
	/** Folds of operator and speaker. */
	readonly folds: readonly [number, number];
	/** Takes of this word are enrolled; the operator says others as well. */
	readonly enrolled: boolean;
	/** The first three takes are enrolled; otherwise three others, to fit on only. */
	readonly first: boolean;
}

/** Share of the operator's own words that may be refused: the shipped threshold is the highest that keeps to it. */
export const OWN_REFUSED = 0.05;

/** Further enrolments of three takes by chance, and neighbours' words for each: to fit the weights on. */
const FURTHER = 3;
const FURTHER_WORDS = 120;
/** People speak up and move: each word is so much louder or fainter than it was recorded, as a standard deviation. */
const LEVEL_DB = 3;

interface Person {
	readonly name: string;
	readonly words: readonly Spoken[];
	/** On average: at one microphone all speak equally loud, and differences between speakers are the recordings' own. */
	readonly levelDb: number;
}

function peopleIn(spoken: readonly Spoken[]): Person[] {
	const heard = spoken.filter((one) => one.heard['one microphone'].clean);
	return [...groupedBy(heard, ({ recording }) => recording.speaker)].map(([name, words]) => ({
		name,
		words: words.toSorted((a, b) => a.recording.path.localeCompare(b.recording.path, 'en', { numeric: true })),
		levelDb: words.reduce((sum, one) => sum + one.heard['one microphone'].clean!.levelDb, 0) / words.length
	}));
}

/** Words of which there are takes to enrol and others to say. */
const enrollable = ({ words }: Person) => [...groupedBy(words, ({ recording }) => recording.word).values()].filter((takes) => takes.length > TAKES);

function saidWhile(operator: Person, people: readonly Person[], eigenvoices: Eigenvoices, draw: number, folds: readonly number[]): Said[] {
	const chance = chanceFrom('enrolment', operator.name, draw);
	const first = draw === 0;
	const sets = enrollable(operator);
	const taken = new Set(sets.flatMap((takes) => (first ? takes : chance.shuffle(takes)).slice(0, TAKES)));
	const said = new Set(sets.map((takes) => takes[0]!.recording.word));
	const mine = operator.words[0]!.recording.fold;
	const voices = new Map((['recorded', 'one microphone'] as const).map((place): [Place, OperatorVoice] => {
		const takes = [...taken].flatMap(({ take }) => (take[place] ? [takeVoice(eigenvoices, ...take[place])] : []));
		return [place, operatorVoice(eigenvoices, takes)];
	}));
	const heard = (person: Person, { recording }: Spoken) => said.has(recording.word) || (first && person.name === operator.name);
	const words = people.flatMap((person) => person.words.filter((word) => heard(person, word) && !taken.has(word)).map((word) => ({ person, word })));
	const own = words.filter(({ person }) => person.name === operator.name);
	const others = words.filter(({ person, word }) => person.name !== operator.name && folds.includes(word.recording.fold) && (folds.length === 1 || word.recording.fold !== mine));
	const used = [...(folds.length === 1 ? own : []), ...(first ? others : chance.shuffle(others).slice(0, FURTHER_WORDS / FOLDS))];
	return used.flatMap(({ person, word }) =>
		PLACES.filter((place) => person.name !== operator.name || place !== 'two metres').flatMap((place) => ROOMS.map((room): Said => {
			const one = word.heard[place][room];
			const voice = voices.get(place === 'recorded' ? 'recorded' : 'one microphone')!;
			const shift = place === 'recorded' ? 0 : operator.levelDb - person.levelDb;
			const moved = LEVEL_DB * chanceFrom('level', word.recording.path, place, room, draw).normal();
			const numbers = one ? compared(voice, { ...one, levelDb: one.levelDb + shift + moved, evidence: evidenceOnce(eigenvoices, one) }) : null;
			const pitchOff = voice.pitch === null || !one || one.pitch === null ? null : Math.abs(voice.pitch - one.pitch);
			return { source: word.recording.source, operator: operator.name, speaker: person.name, place, room, numbers, pitchOff, folds: [mine, word.recording.fold], enrolled: said.has(word.recording.word), first };
		}))
	);
}

const known = new WeakMap<Eigenvoices, WeakMap<object, Evidence>>();
function evidenceOnce(eigenvoices: Eigenvoices, heard: { readonly cepstra: readonly Float64Array[] }): Evidence {
	const all = known.get(eigenvoices) ?? new WeakMap<object, Evidence>();
	known.set(eigenvoices, all);
	const evidence = all.get(heard) ?? eigenvoices.of(heard.cepstra);
	all.set(heard, evidence);
	return evidence;
}

const PAIRS: readonly (readonly number[])[] = Array.from({ length: FOLDS }, (_, i) => Array.from({ length: FOLDS - i }, (__, k) => (k === 0 ? [i] : [i, i + k]))).flat();

export interface Heard {
	readonly learned: readonly Learned[];
	readonly spoken: readonly Spoken[];
}

export function hearAll(data: string): Heard {
	const words = wordRecordings(data).filter(({ source }) => source !== 'noise');
	const commands = words.filter(({ word }) => COMMANDS_RECORDED.includes(word));
	const operators = new Set([...groupedBy(commands, ({ word, speaker }) => `${word} ${speaker}`).values()].filter((takes) => takes.length > TAKES).map((takes) => takes[0]!.speaker));
	return {
		learned: words.filter(({ source }) => source === 'speech-commands').flatMap((one) => heardAsRecorded(one) ?? []),
		spoken: allSpoken(words.filter(({ source, word, speaker }) => source === 'fsdd' || COMMANDS_RECORDED.includes(word) || operators.has(speaker)))
	};
}

/** All that is said, by eigenvoices that met neither the operator nor the speaker; `whole`: those of all of Speech Commands, for the speakers of FSDD. */
export function allSaid({ learned, spoken }: Heard, whole: EigenvoicesNumbers): Said[] {
	const commands = peopleIn(spoken.filter(({ recording }) => recording.source === 'speech-commands'));
	const operators = commands.filter((person) => enrollable(person).length > 0);
	const said = PAIRS.flatMap((folds) => {
		const eigenvoices = new Eigenvoices(eigenvoicesWithout(folds, learned));
		const now = operators.filter(({ words }) => folds.includes(words[0]!.recording.fold));
		return now.flatMap((operator) => Array.from({ length: 1 + FURTHER }, (_, draw) => saidWhile(operator, commands, eigenvoices, draw, folds)).flat());
	});
	const digits = peopleIn(spoken.filter(({ recording }) => recording.source === 'fsdd'));
	const eigenvoices = new Eigenvoices(whole);
	// one fold for all three: they are in no fit
	const alike = digits.map((person) => ({ ...person, words: person.words.map((word) => ({ ...word, recording: { ...word.recording, fold: 0 } })) }));
	return [...said, ...alike.flatMap((operator) => saidWhile(operator, alike, eigenvoices, 0, [0]))];
}

const isOwn = ({ operator, speaker }: Said) => operator === speaker;

/** Weights by what is said as if at one microphone and two metres from it, the operator's other words with them; own words and others' weigh the same in all. */
export function fitVoiceWeights(said: readonly Said[]): number[] {
	const used = said.filter(({ place, numbers, source }) => place !== 'recorded' && source === 'speech-commands' && numbers !== null);
	const ownShare = used.filter(isOwn).length;
	const observations = used.map((one): Observation => ({ x: one.numbers!, right: isOwn(one), weight: isOwn(one) ? 1 : ownShare / (used.length - ownShare) }));
	return logistic(observations);
}

const oddsOf = (one: Said, weights: readonly number[]) => (one.numbers ? weighed(one.numbers, { weights }) : -Infinity);

/** The threshold at which this share of the operator's own words, without and with noise, is refused. */
export function thresholdFor(said: readonly Said[], weights: readonly number[], refused: number): number {
	const odds = said.filter((one) => isOwn(one) && one.enrolled && one.place === 'one microphone' && one.source === 'speech-commands').map((one) => oddsOf(one, weights)).sort((a, b) => a - b);
	return odds[Math.floor(refused * odds.length)]!;
}

export interface Judged {
	readonly said: Said;
	readonly passes: boolean;
}

/** Each word judged with weights and a threshold from other operators and other neighbours; `refused`: share of own words, in the fit. */
export function judged(said: readonly Said[], refused: number): Judged[] {
	const byFolds = new Map<string, VoiceWeighing>();
	const weighingFor = (one: Said): VoiceWeighing => {
		// nobody of FSDD is in any fit
		const without: readonly number[] = one.source === 'fsdd' ? [] : one.folds;
		const key = without.toSorted((a, b) => a - b).join();
		const found = byFolds.get(key);
		if (found) return found;
		const others = said.filter(({ source, folds }) => source === 'speech-commands' && !folds.some((fold) => without.includes(fold)));
		const weights = fitVoiceWeights(others);
		const made = { weights, threshold: thresholdFor(others, weights, refused) };
		byFolds.set(key, made);
		return made;
	};
	return said.filter(({ first }) => first).map((one) => {
		const { weights, threshold } = weighingFor(one);
		return { said: one, passes: oddsOf(one, weights) >= threshold };
	});
}

/** The weights to ship, by all of Speech Commands. */
export function voiceWeighing(said: readonly Said[], refused: number): VoiceWeighing {
	const weights = fitVoiceWeights(said);
	return { weights: weights.map((w) => Number(w.toFixed(5))), threshold: Number(thresholdFor(said, weights, refused).toFixed(3)) };
}
