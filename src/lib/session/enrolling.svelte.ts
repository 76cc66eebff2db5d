import type { EarsError } from '$lib/ports/ears';
import type { Clock } from '$lib/ports/clock';
import type { Enrolments } from '$lib/ports/enrolments';
import type { Takes } from '$lib/ports/takes';
import { type EnrolledWord, type Enrolment, isKnown, type Take, TAKES } from '$lib/voice/enrolment';
import { isLike, tooAlike } from '$lib/voice/likeness';
import { LEAST_TAKES, tellsVoice } from '$lib/voice/operator/operator-check';
import type { TakeVerdict } from '$lib/voice/word-ends';
import { openTogether } from './enrolment-plan';
import { fromEnrolmentFile } from './enrolment-file';

/** What is said now. */
export interface Asked {
	readonly word: string;
	/** What the operator calls it, where it is a word of the operator's own beside the vocabulary's. */
	readonly said?: string;
	readonly takes: readonly Take[];
}

/** What came of the last sound. `unlike`: not the word that the takes before it were. */
export interface LastTake {
	readonly verdict: TakeVerdict | 'unlike';
	/** What the recogniser would have heard without the operator's takes. */
	readonly heard: string | null;
	/** Counts takes, so that two alike are told apart. */
	readonly nth: number;
}

/** A word just said three times is too much like others that may be open at the same time. */
export interface Alike {
	readonly word: EnrolledWord;
	readonly others: readonly EnrolledWord[];
}

/** One operator's words: said, said again, taken away, brought in. Everything is kept at once, so that it can be left and gone on with. */
export interface Enrolling {
	readonly person: string;
	readonly words: readonly EnrolledWord[];
	/** Kept words were said to another network; null: not known yet, as the recogniser has not been asked. */
	readonly older: boolean | null;
	readonly changedAt: string | null;
	/** What is kept, to be saved as a file. */
	readonly enrolment: Enrolment | null;
	/** Listening for `asked`; null: not listening. */
	readonly asked: Asked | null;
	/** Place of the asked word among those that this round asks for, from 1. */
	readonly place: number;
	readonly of: number;
	/** Takes that this round still asks for. */
	readonly takesLeft: number;
	readonly level: number;
	readonly noisy: boolean;
	readonly last: LastTake | null;
	readonly alike: Alike | null;
	readonly problem: EarsError['error'] | null;
	/** Something could not be kept, as a sentence. */
	readonly fault: string | null;
	readonly canUndo: boolean;
	/** Only this operator's words are to count. */
	readonly operatorOnly: boolean;
	/**
	 * Whether the takes tell enough of the voice for that: `more` takes are needed; `again`: there are enough, said before voices were told; `unable`:
	 * the device can't tell voices. Null: not known yet.
	 */
	readonly canBeOnly: 'yes' | 'more' | 'again' | 'unable' | null;
	/** Asks for every word of the list that is not known yet, in its order. */
	begin(words: readonly string[]): Promise<void>;
	/** One word anew, or another one for the same command. */
	say(word: string, said?: string): Promise<void>;
	skip(): void;
	/** Drops the takes of the asked word. */
	again(): void;
	/** Stops listening; what was said is kept. */
	pause(): void;
	/** Keeps a word although it is like others, or lets it go. */
	settle(keep: boolean): void;
	remove(word: EnrolledWord): void;
	removeAll(): void;
	undo(): void;
	/** Whose words count from the next listening on. Does nothing where no word is kept. */
	listenOnly(only: boolean): void;
	/** Throws RangeError with a sentence where the file is not one. */
	bring(bytes: ArrayBuffer): void;
}

export interface EnrollingNeeds {
	readonly takes: Takes | null;
	readonly enrolments: Enrolments;
	readonly clock: Pick<Clock, 'now'>;
	readonly person: string;
	readonly kept: Enrolment | undefined;
}

const same = (a: Pick<EnrolledWord, 'word' | 'said'>, b: Pick<EnrolledWord, 'word' | 'said'>) => a.word === b.word && a.said === b.said;

export function createEnrolling({ takes, enrolments, clock, person, kept }: EnrollingNeeds): Enrolling {
	let enrolment = $state.raw<Enrolment | null>(kept ?? null);
	let before = $state.raw<{ readonly enrolment: Enrolment | null } | null>(null);
	let model = $state.raw<string | null>(null);
	/** What tells voices; undefined: not known yet. */
	let voices = $state.raw<string | null | undefined>(undefined);
	let round = $state.raw<readonly { readonly word: string; readonly said?: string }[]>([]);
	let place = $state(0);
	let said = $state.raw<readonly Take[]>([]);
	let listening = $state(false);
	let level = $state(0);
	let noisy = $state(false);
	let last = $state.raw<LastTake | null>(null);
	let alike = $state.raw<Alike | null>(null);
	let problem = $state.raw<EarsError['error'] | null>(null);
	let fault = $state.raw<string | null>(null);

	const words = $derived(enrolment?.words ?? []);
	const asked = $derived.by<Asked | null>(() => {
		const now = round[place];
		return listening && now ? { ...now, takes: said } : null;
	});

	const canBeOnly = $derived.by<Enrolling['canBeOnly']>(() => {
		if (voices === undefined) return null;
		if (voices === null) return 'unable';
		if (tellsVoice(words, voices)) return 'yes';
		return words.reduce((sum, { takes: all }) => sum + all.length, 0) < LEAST_TAKES ? 'more' : 'again';
	});

	/** Saves follow one another, so that the last one stays. */
	let saving = Promise.resolve();
	function keep(next: Enrolment | null): void {
		enrolment = next;
		saving = saving
			.then(() => (next ? enrolments.save(next) : enrolments.remove(person)))
			.then(
				() => void (fault = null),
				(thrown: unknown) => void (fault = thrown instanceof Error ? thrown.message : String(thrown))
			);
	}
	const withWords = (changed: readonly EnrolledWord[], of: string): Enrolment => ({
		person, model: of, changedAt: clock.now().at, words: changed, ...(enrolment?.operatorOnly ? { operatorOnly: true } : {})
	});

	/** Puts a word in the place of the same one. What was said to another network is of no use beside it. */
	function put(word: EnrolledWord): void {
		const usable = enrolment?.model === model ? words : [];
		keep(withWords([...usable.filter((one) => !same(one, word)), word], model!));
	}

	function nextWord(): void {
		said = [];
		place++;
		if (place >= round.length) stop();
	}

	function stop(): void {
		listening = false;
		takes?.stop();
	}

	function take(heard: Parameters<NonNullable<Takes['ontake']>>[0]): void {
		const now = round[place];
		if (!now || alike) return;
		const fits = heard.take ? isLike(heard.take, said) : false;
		last = { verdict: heard.take && !fits ? 'unlike' : heard.verdict, heard: heard.heard[0]?.word ?? null, nth: (last?.nth ?? 0) + 1 };
		if (!heard.take || !fits) return;
		said = [...said, heard.take];
		if (said.length < TAKES) return;
		const word: EnrolledWord = { ...now, takes: said };
		const others = tooAlike(word, words.filter((one) => isKnown(one) && !same(one, word) && openTogether(one.word, word.word)));
		if (others.length) {
			alike = { word, others };
			stop();
			return;
		}
		put(word);
		nextWord();
	}

	if (takes) {
		takes.ontake = take;
		takes.onlevel = (now) => ({ level, noisy } = now);
		takes.onerror = ({ error }) => {
			problem = error;
			listening = false;
		};
		void takes.mark().then((mark) => (model = mark));
		void takes.voices().then((mark) => (voices = mark));
	} else problem = 'service-not-allowed';

	async function listen(): Promise<void> {
		if (!takes) return;
		problem = null;
		last = null;
		listening = true;
		const mark = await takes.start();
		if (mark) model = mark;
		else listening = false;
	}

	async function ask(list: typeof round): Promise<void> {
		stop();
		[round, place, said, alike] = [list, 0, [], null];
		if (list.length) await listen();
	}

	return {
		person,
		get words() {
			return words;
		},
		get older() {
			return model === null || !enrolment ? null : enrolment.model !== model;
		},
		get changedAt() {
			return enrolment?.changedAt ?? null;
		},
		get enrolment() {
			return enrolment;
		},
		get asked() {
			return asked;
		},
		get place() {
			return place + 1;
		},
		get of() {
			return round.length;
		},
		get takesLeft() {
			return (round.length - place) * TAKES - said.length;
		},
		get level() {
			return level;
		},
		get noisy() {
			return noisy;
		},
		get last() {
			return last;
		},
		get alike() {
			return alike;
		},
		get problem() {
			return problem;
		},
		get fault() {
			return fault;
		},
		get canUndo() {
			return before !== null;
		},
		get operatorOnly() {
			return enrolment?.operatorOnly ?? false;
		},
		get canBeOnly() {
			return canBeOnly;
		},
		begin: (list) => ask(list.filter((word) => !words.some((one) => one.word === word && isKnown(one)) || (model !== null && enrolment?.model !== model)).map((word) => ({ word }))),
		say: (word, name) => ask([{ word, ...(name ? { said: name } : {}) }]),
		skip: nextWord,
		again() {
			said = [];
			last = null;
		},
		pause: stop,
		settle(keepIt) {
			if (!alike) return;
			if (keepIt) put(alike.word);
			alike = null;
			const going = place + 1 < round.length || !keepIt;
			if (keepIt) nextWord();
			else said = [];
			if (going) void listen();
		},
		remove(word) {
			before = { enrolment };
			const rest = words.filter((one) => !same(one, word));
			keep(rest.length && enrolment ? { ...enrolment, words: rest, changedAt: clock.now().at } : null);
		},
		removeAll() {
			before = { enrolment };
			keep(null);
		},
		undo() {
			if (before) keep(before.enrolment);
			before = null;
		},
		listenOnly(only) {
			if (!enrolment) return;
			const { operatorOnly: _, ...rest } = enrolment;
			keep({ ...rest, changedAt: clock.now().at, ...(only ? { operatorOnly: true } : {}) });
		},
		bring(bytes) {
			const brought = fromEnrolmentFile(bytes);
			before = { enrolment };
			keep({ ...brought, person });
		}
	};
}
