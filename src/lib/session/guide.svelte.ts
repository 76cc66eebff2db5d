import type { Command } from '$lib/run/command';
import { commandById, type CommandId } from '$lib/run/commands';
import { readingAsked } from '$lib/run/asked';
import type { Device } from './device.svelte';
import { createForecasting, type Forecasting } from './forecasting.svelte';
import { createListening, type Listening } from './listening.svelte';
import { instrumentUsed } from './instrument';
import { meantByKey, meantByWords, type Meant, PLACES, plainly, sayable, type Situation } from './inputs';
import { named, type Named } from './named';
import { createNumbering } from './numbering';
import { dragged, emptyEntry, enter, type NumberEntry, type NumberToken, valueOf } from './number-entry';
import type { Preferences } from './preferences.svelte';
import { pickedEars } from './picked-ears';
import { bookingLeftMs } from './booking-left';
import { createPlaces } from './places';
import { createRing, type Ring, type RingTarget } from './ring.svelte';
import { createSpeaking } from './speaking';
import { warningTexts } from './warning-words';
import { type Answered, type Manner, openWalk, type Walk, type WalkNeeds } from './walk.svelte';

/** What stands over the walk and asks for more than a press. */
export type Sheet = 'trouble' | 'more' | CommandId | null;

/** The companion at work on one run: all inputs come in here, everything shown and said goes out from here. */
export interface Guide {
	readonly walk: Walk;
	readonly words: Named;
	readonly forecasting: Forecasting;
	readonly listening: Listening;
	readonly ring: Ring;
	readonly entry: NumberEntry;
	/** How readings are given by hand now. */
	readonly entryBy: 'keys' | 'drawing';
	readonly sheet: Sheet;
	/** Ticks once a second, so that times on the screen move. */
	readonly nowMono: number;
	/** The journal is damaged behind its last sound event. */
	readonly damage: { readonly seq: number; readonly reason: string } | null;
	readonly situation: Situation;
	/** The sheet that stands open was drawn anew: its targets are numbered again. */
	renumber(): void;
	/** What presses the targets now: a finger, the pedal by way of the ring, or a number that was said. Asked at the press, not after something was awaited. */
	readonly hand: Manner['via'];
	give(command: Command, via?: Manner['via']): Promise<void>;
	token(token: NumberToken, raw: string): void;
	enterBy(by: Guide['entryBy']): void;
	/** A number moved on the drawing, in the asked reading's unit. */
	drag(text: string): void;
	send(via: Manner['via']): void;
	open(sheet: Sheet): void;
	close(): void;
}

const speaksOnly: ReadonlySet<Command['id']> = new Set(['again', 'where', 'time', 'deaf', 'ears']);
const BEAT_MS = 5000;

/** Opens a run and everything around it. `targets` reads the targets that are on the screen, for the ring. */
export async function createGuide(run: string, device: Device, preferences: Preferences, targets: () => readonly RingTarget[]): Promise<Guide> {
	let entry = $state.raw<NumberEntry>(emptyEntry);
	let entryBy = $state<Guide['entryBy']>('keys');
	let sheet = $state<Sheet>(null);
	let nowMono = $state(device.clock.now().mono);
	let asked = '';
	let fullNext = false;
	let numbered = $state(0);

	// opening a run writes too ("opened again"): nobody is there yet to be told
	let hearsAnswers: WalkNeeds['onanswer'] = () => {};
	const needs: WalkNeeds = {
		store: device.store,
		clock: device.clock,
		device: preferences.values.device,
		signer: device.signer,
		instrument: () => instrumentUsed(preferences.values),
		places: createPlaces(run, device.store, () => preferences.values.moves.placeToleranceM),
		onanswer: (answered) => hearsAnswers(answered)
	};
	const { walk, fault: damage } = await openWalk(run, needs);
	const words = named(walk.state.edition, 'en');
	const speaking = createSpeaking(device.mouth, () => words, () => preferences.values);
	const forecasting = createForecasting(walk, device, (warning) => speaking.warn(warningTexts(warning, words, device.clock.wallMs())));
	// what the ring presses was pressed by the pedal, what a number takes by voice: clean gloves never touched the screen
	let hand: Manner = { via: 'touch' };
	function pressBy(manner: Manner, target: RingTarget): void {
		hand = manner;
		try {
			target.press();
		} finally {
			hand = { via: 'touch' };
		}
	}
	const byPedal = (target: RingTarget): RingTarget => ({ ...target, press: () => pressBy({ via: 'pedal' }, target) });
	const ring = createRing(device.clock, () => preferences.values.scanMs, () => targets().map(byPedal));
	const numbering = createNumbering(targets, PLACES.length);

	const situation = $derived.by<Situation>(() => {
		const reading = walk.state.status === 'running' && walk.allowed.some(({ id }) => id === 'digits');
		return {
			allowed: walk.allowed,
			asking: walk.question !== null && walk.question.yes !== null && walk.question.key !== 'confirmHazard',
			confirming: walk.allowed.some(({ id }) => id === 'confirm'),
			number: reading ? { begun: entry.text !== '' } : null,
			scanning: ring.on,
			...(sheet === null ? {} : { sheet: { numbered } })
		};
	});

	const answerWords = (id: string) => {
		const outcome = walk.state.edition.steps[walk.state.step]?.outcomes.find((o) => o.id === id);
		return outcome ? words.answer(outcome) : id;
	};
	const canSay = $derived(sayable(situation, 'en', answerWords));
	/** Numbers what a sheet offers, as long as numbers can be said, and opens the words that can be said now. */
	function openWords(): void {
		if (sheet !== null && listening.listening) numbering.show();
		else numbering.hide();
		numbered = numbering.shown;
		listening.setVocabulary(canSay);
	}

	function answer(answered: Answered): void {
		if (answered.kind === 'done') {
			const { before, after, command } = answered;
			if (after.step !== before.step || after.rounds.length !== before.rounds.length || command.id === 'digits' || command.id === 'yes') entry = emptyEntry;
			if (after.seq !== before.seq) {
				fullNext = false;
				if (sheet !== 'more') sheet = null;
				// what a press leads to is scanned anew
				ring.end();
			}
		}
		speaking.after(answered);
		forecasting.tick();
		openWords();
	}

	async function give(command: Command, by: Manner['via'] = 'touch', more: Partial<Manner> = {}): Promise<void> {
		const manner: Manner = by === 'touch' ? hand : { via: by, ...more };
		if (command.id === 'again') {
			speaking.step(walk.state, fullNext || preferences.values.wording === 'full');
			fullNext = !fullNext;
		}
		if (command.id === 'where') speaking.where(walk.state);
		if (command.id === 'time') speaking.time(walk.state, forecasting.forecast, bookingLeftMs(walk.state, device.clock.wallMs()));
		if (command.id === 'deaf') listening.deafen();
		if (command.id === 'ears') await listening.hear().then(openWords);
		if (speaksOnly.has(command.id)) return;
		if (command.id === 'no' && walk.question) {
			entry = emptyEntry;
			walk.dismiss();
			return;
		}
		await walk.give(command, manner);
	}

	function act(meant: Meant, via: Manner['via'], more: Partial<Manner> = {}): void {
		if (!meant) return;
		if ('command' in meant) void give(meant.command, via, more);
		else if ('open' in meant) open(meant.open);
		else if ('token' in meant) token(meant.token, meant.raw);
		else if ('send' in meant) send(via);
		else if ('further' in meant) further();
		else if ('place' in meant) {
			const target = numbering.at(meant.place);
			if (target) pressBy({ via, ...more }, target);
		}
		else if (meant.scan === 'take' && ring.on) ring.take();
		else if (ring.on) ring.end();
		else ring.begin();
	}

	const token = (given: NumberToken, raw: string): void => change((before) => enter(before, given, raw));
	const drag = (text: string): void => change(() => dragged(text));

	function change(after: (entry: NumberEntry) => NumberEntry): void {
		const spec = readingAsked(walk.state);
		if (!spec) return;
		if (asked !== `${walk.state.step} ${spec.id} ${walk.state.rounds.length}`) entry = emptyEntry;
		asked = `${walk.state.step} ${spec.id} ${walk.state.rounds.length}`;
		if (walk.question) walk.dismiss();
		entry = after(entry);
	}

	/** Sends the number: it is echoed and must be confirmed before it counts. */
	function send(via: Manner['via']): void {
		const spec = readingAsked(walk.state);
		const value = valueOf(entry);
		if (!spec || value === null) return;
		entry = { ...entry, echoed: true };
		void give({ id: 'digits', reading: spec.id, value, unit: spec.unit, raw: entry.raw }, via);
	}

	function further(): void {
		numbering.further();
		openWords();
	}

	function open(next: Sheet): void {
		ring.end();
		numbering.hide();
		sheet = next;
		openWords();
	}

	const listening = createListening({
		ears: () => pickedEars(device, preferences),
		mouth: device.mouth,
		enrolment: () => device.enrolments.load(walk.state.person),
		onheard: (heard) => {
			const meant = meantByWords(heard.words, situation, 'en', answerWords);
			act(meant, 'voice', { heard: heard.words, confidence: heard.confidence });
			return meant !== null;
		}
	});

	hearsAnswers = answer;
	const stopBeat = device.clock.every(BEAT_MS, () => walk.beat());
	const stopTick = device.clock.every(1000, () => {
		nowMono = device.clock.now().mono;
		forecasting.tick();
		openWords();
	});
	const stopKeys = device.keys.listen((press) => act(meantByKey(press, situation), press.kind === 'key' ? 'key' : 'pedal'));
	if (preferences.values.ears !== 'off') void listening.hear().then(openWords);
	void device.wake.hold();

	return {
		walk,
		words,
		forecasting,
		listening,
		ring,
		damage,
		get entry() {
			return entry;
		},
		get entryBy() {
			return entryBy;
		},
		enterBy: (by) => void (entryBy = by),
		get sheet() {
			return sheet;
		},
		get nowMono() {
			return nowMono;
		},
		get hand() {
			return hand.via;
		},
		get situation() {
			return situation;
		},
		give: (command, via) => give(command, via),
		renumber: openWords,
		token,
		drag,
		send,
		open,
		close() {
			stopBeat();
			stopTick();
			stopKeys();
			ring.end();
			forecasting.close();
			listening.deafen();
			device.wake.release();
			device.mouth.silence();
			walk.close();
		}
	};
}

/** What a target of a command does when it is touched. */
export function touch(guide: Guide, id: CommandId): void {
	const meant = plainly(id);
	if (meant && 'open' in meant) guide.open(meant.open);
	else if (meant && 'command' in meant) void guide.give(meant.command, 'touch');
}
export const isCommand = (id: string): id is CommandId => Object.hasOwn(commandById, id);
