/**
 * Enrolment measured: whoever has four takes or more of a word in the recordings enrols three clean ones of each such word, and is heard
 * saying the others, by the ears that never heard this voice. Talk and noise are listened to as well, by those who enrolled the digits.
 */
import { join } from 'node:path';
import type { Weighing } from '$lib/voice/decoder';
import { type EnrolledWord, TAKES } from '$lib/voice/enrolment';
import { SpeechFeatures } from '$lib/voice/features/speech-features';
import { Listener } from '$lib/voice/listener';
import { takeIn } from '$lib/voice/take';
import { cacheFolder } from '../paths';
import { load } from '../recordings';
import { groupedBy } from '../voices/grouped';
import { DIGITS, RECORDED } from '../vocabulary';
import { eachTrial, type Posteriors } from './cache';
import { PLAIN_STEP, QUESTION, READING } from './gates';
import { modelOf } from './listening';
import { type Replayed, Replay } from './replay';

export interface EnrolledResult {
	readonly trial: Posteriors;
	readonly right: boolean;
	readonly told: readonly string[];
	/** From the word's end to the decision, where both are known. */
	readonly afterMs?: number;
}

export interface Untold {
	readonly trial: Posteriors;
	readonly gate: 'plain step' | 'reading';
	readonly told: readonly string[];
}

export interface EnrolledFigures {
	readonly words: readonly EnrolledResult[];
	/** What is no command: talk and noise. */
	readonly others: readonly Untold[];
}

const takeNumber = ({ path }: Posteriors) => Number(/_(\d+)\.wav$/.exec(path)?.[1]);
/** Any sound will do: what is heard is replayed. */
const ANY = new Float32Array(1);

interface Said {
	readonly word: string;
	readonly step: number;
}

class Ear {
	readonly #replay = new Replay();
	readonly #listener: Listener;

	constructor(fold: number, weighing: Weighing, enrolled: readonly EnrolledWord[]) {
		this.#listener = new Listener({ ...modelOf(fold), weighing }, this.#replay);
		this.#listener.enrol(enrolled);
	}

	hear(replayed: Replayed, open: readonly string[]): Said[] {
		const said: Said[] = [];
		this.#listener.setOpen(open);
		this.#listener.reset();
		this.#replay.load(replayed);
		this.#listener.push(ANY, (hearing) => void (hearing.unsure || said.push({ word: hearing.word, step: hearing.step })));
		return said;
	}
}

/** Words of one speaker with takes enough to enrol three and hear one. */
export function enrollable(own: readonly Replayed[]): Map<string, Posteriors[]> {
	const clean = own.map(({ trial }) => trial).filter(({ condition }) => condition === 'clean').toSorted((a, b) => takeNumber(a) - takeNumber(b));
	return new Map([...groupedBy(clean, ({ word }) => word)].filter(([, takes]) => takes.length > TAKES));
}

/** The first three clean takes of each word, made as the app makes them. */
export function enrolledWith(takes: ReadonlyMap<string, readonly Posteriors[]>, fold: number): { readonly words: readonly EnrolledWord[]; readonly used: ReadonlySet<string> } {
	const features = new SpeechFeatures(modelOf(fold).embedding);
	const first = [...takes].map(([word, trials]) => [word, trials.slice(0, TAKES)] as const);
	return {
		words: first.map(([word, trials]) => ({ word, takes: trials.map(({ path }) => takeIn(features, load({ path }))) })),
		used: new Set(first.flatMap(([, trials]) => trials.map(({ path }) => path)))
	};
}

export function enrolledFigures(weighings: readonly Weighing[]): EnrolledFigures {
	const said: Replayed[] = [];
	const rest: Replayed[] = [];
	eachTrial(join(cacheFolder(), 'bench'), (trial, vectors) => {
		if (trial.kind === 'word' && RECORDED.includes(trial.word)) said.push({ trial, vectors });
		if (trial.kind === 'talk' || trial.kind === 'noise') rest.push({ trial, vectors });
	});
	const words: EnrolledResult[] = [];
	const others: Untold[] = [];
	for (const own of groupedBy(said, ({ trial }) => `${trial.source} ${trial.speaker}`).values()) {
		const takes = enrollable(own);
		if (takes.size === 0) continue;
		const { fold, source } = own[0]!.trial;
		const { words: enrolled, used } = enrolledWith(takes, fold);
		const ear = new Ear(fold, weighings[fold]!, enrolled);
		for (const replayed of own.filter(({ trial }) => takes.has(trial.word) && !used.has(trial.path))) {
			const { trial } = replayed;
			const told = ear.hear(replayed, DIGITS.some((digit) => digit === trial.word) ? READING : QUESTION);
			const right = told.length === 1 && told[0]!.word === trial.word;
			words.push({ trial, right, told: told.map(({ word }) => word), ...(right && trial.endS !== null ? { afterMs: (told[0]!.step + 1) * 80 - trial.endS * 1000 } : {}) });
		}
		// takes and trials must be of one network
		if (source !== 'fsdd') continue;
		for (const replayed of rest.filter(({ trial }) => trial.fold === fold)) {
			for (const [gate, open] of [['plain step', PLAIN_STEP], ['reading', READING]] as const) {
				others.push({ trial: replayed.trial, gate, told: ear.hear(replayed, open).map(({ word }) => word) });
			}
		}
	}
	return { words, others };
}
