import type { Clock } from '$lib/ports/clock';
import type { Beat, JournalStore, Mend, WriterLock } from '$lib/ports/journal-store';
import type { Signer } from '$lib/ports/signer';
import { canonical } from '$lib/record/canonical';
import { beforeGenesis, type Head, seal } from '$lib/record/chain';
import type { InstrumentUsed } from '$lib/metrology/instrument';
import type { KnownPlaces } from '$lib/metrology/returns';
import { type Allowed, allowed } from '$lib/run/allowed';
import type { Command, Question, Reason, Told } from '$lib/run/command';
import { decide } from '$lib/run/decide';
import type { Draft, Hand, JournalEvent, Via } from '$lib/run/events';
import { fold } from '$lib/run/fold';
import type { RunState } from '$lib/run/state';
import { foldTimeline, type Timeline, timelineOf } from '$lib/run/timeline';
import { closingDraft, countersignedDraft, type SignAsPerson } from './closing';

/** How an input came: what the journal keeps of it besides the command. */
export interface Manner {
	readonly via: Via;
	readonly heard?: string;
	readonly confidence?: number;
}

/** What came of a command, for the mouth and the screen. */
export type Answered =
	| { readonly kind: 'done'; readonly command: Command; readonly told: readonly Told[]; readonly before: RunState; readonly after: RunState }
	| { readonly kind: 'asked'; readonly command: Command; readonly question: Question }
	| { readonly kind: 'refused'; readonly command: Command; readonly reason: Reason }
	| { readonly kind: 'not kept'; readonly command: Command; readonly fault: Error };

export interface WalkNeeds {
	readonly store: JournalStore;
	readonly clock: Clock;
	readonly device: string;
	/** Signs the journal's end; null where the device has no key. */
	readonly signer: Signer | null;
	/** What this device knows of the instrument; absent: nothing is recorded of it. */
	readonly instrument?: () => InstrumentUsed;
	/** Where stored places are expected, for the step in hand; absent: nothing is known. */
	readonly places?: (walk: Pick<Walk, 'state' | 'events'>) => KnownPlaces | undefined;
	/** Called after each command, once everything is durable. */
	readonly onanswer: (answered: Answered) => void;
}

/** A run that is open on this device: rune state over its journal, and the one place through which every input goes. */
export interface Walk {
	readonly run: string;
	readonly state: RunState;
	readonly timeline: Timeline;
	readonly events: readonly JournalEvent[];
	readonly allowed: readonly Allowed[];
	readonly question: Question | null;
	readonly refusal: Reason | null;
	readonly told: readonly Told[];
	/** Set if the device would not keep an event: nothing more is written until it is solved. */
	readonly fault: Error | null;
	/** Whether this tab may write. */
	readonly writable: boolean;
	readonly mended: readonly Mend[];
	give(command: Command, manner: Manner): Promise<void>;
	/** Takes the open question away ("no"). */
	dismiss(): void;
	/** Closes and signs the journal of an ended run, where that is still to be done. */
	closeChain(): Promise<void>;
	/** Closes an ended run once more, with a person's signature. Rejects with a sentence where that can't be; then nothing was written. */
	countersign(sign: SignAsPerson): Promise<void>;
	/** A sign of life. */
	beat(): void;
	close(): void;
}

export interface OpenedRun {
	readonly run: string;
	readonly events: readonly JournalEvent[];
	readonly mended: readonly Mend[];
	readonly lock: WriterLock | null;
}

export function createWalk(opened: OpenedRun, needs: WalkNeeds): Walk {
	const { store, clock, device } = needs;
	const events: JournalEvent[] = [...opened.events];
	// the timeline folds the run's state along with it: read once, used for both
	let timeline = $state.raw<Timeline>(timelineOf(events));
	let state = $state.raw<RunState>(timeline.state);
	let question = $state.raw<Question | null>(null);
	let refusal = $state.raw<Reason | null>(null);
	let told = $state.raw<readonly Told[]>([]);
	let fault = $state.raw<Error | null>(null);
	const offered = $derived(allowed(state, question));
	let head: Head = headOf(opened.run, events);
	let last: { command: Command['id']; mono: number; boot: string } | null = null;
	let queue: Promise<void> = Promise.resolve();

	async function write(drafts: readonly Draft[], hand: Hand): Promise<void> {
		if (!opened.lock) throw new Error('another tab writes this run');
		const sealed: JournalEvent[] = [];
		let end = head;
		for (const draft of drafts) {
			const event = seal(draft, end, clock.now(), hand);
			sealed.push(event);
			end = { run: end.run, seq: event.seq, hash: event.hash };
		}
		await store.append(opened.run, sealed, opened.lock);
		// only now is it shown: an event is acknowledged when it is durable
		head = end;
		for (const event of sealed) {
			events.push(event);
			state = fold(state, event);
			timeline = foldTimeline(timeline, event, state);
		}
	}

	/** Tried again when the run is next opened: what ended it is kept already. */
	async function closeChain(): Promise<void> {
		try {
			const draft = await closingDraft(state, events, device, needs.signer);
			if (draft) await write([draft], { by: state.person, device, via: 'guide' });
		} catch (thrown) {
			fault = asError(thrown);
			await readAgain();
		}
	}

	async function countersign(sign: SignAsPerson): Promise<void> {
		const draft = await countersignedDraft(state, events, device, needs.signer, sign);
		try {
			await write([draft], { by: state.person, device, via: 'guide' });
		} catch (thrown) {
			await readAgain();
			throw thrown;
		}
	}

	/** After a failed write one copy may hold the event already: what the store then has is what counts. */
	async function readAgain(): Promise<void> {
		try {
			const again = await store.open(opened.run);
			if (again.fault) throw new Error(again.fault.reason);
			events.splice(0, events.length, ...again.events);
			timeline = timelineOf(events);
			state = timeline.state;
			head = headOf(opened.run, events);
		} catch (thrown) {
			fault = asError(thrown);
		}
	}

	function placesNow(): { places?: KnownPlaces } {
		const places = needs.places?.({ state, events });
		return places ? { places } : {};
	}

	async function take(command: Command, manner: Manner, pressed: { mono: number; boot: string; at: string }): Promise<void> {
		const before = state;
		const decision = decide(state, command, {
			now: pressed,
			last,
			asked: question,
			via: manner.via,
			device,
			...placesNow()
		});
		last = { command: command.id, mono: pressed.mono, boot: pressed.boot };
		if (decision.refused) {
			refusal = decision.refused;
			return needs.onanswer({ kind: 'refused', command, reason: decision.refused });
		}
		refusal = null;
		if (decision.ask) {
			question = decision.ask;
			return needs.onanswer({ kind: 'asked', command, question: decision.ask });
		}
		try {
			if (decision.drafts.length) {
				const under = state.supervisor;
				await write(decision.drafts, { by: state.person, ...(under ? { under } : {}), device, ...manner });
			}
			question = null;
			told = decision.told ?? [];
			fault = null;
			needs.onanswer({ kind: 'done', command, told, before, after: state });
			await closeChain();
		} catch (thrown) {
			fault = asError(thrown);
			await readAgain();
			needs.onanswer({ kind: 'not kept', command, fault });
		}
	}

	return {
		run: opened.run,
		get state() {
			return state;
		},
		get timeline() {
			return timeline;
		},
		get events() {
			return events;
		},
		get allowed() {
			return offered;
		},
		get question() {
			return question;
		},
		get refusal() {
			return refusal;
		},
		get told() {
			return told;
		},
		get fault() {
			return fault;
		},
		writable: opened.lock !== null,
		mended: opened.mended,
		give(command, manner) {
			// the press is stamped when it came, not when its turn comes
			const pressed = clock.now();
			queue = queue.then(() => take(command, manner, pressed));
			return queue;
		},
		dismiss() {
			question = null;
			refusal = null;
		},
		closeChain: () => (queue = queue.then(closeChain)),
		countersign(sign) {
			const signed = queue.then(() => countersign(sign));
			queue = signed.catch(() => {}); // told to the caller; the next in line goes on
			return signed;
		},
		beat: () => void store.beat(opened.run, beatOf(clock)).catch((thrown: unknown) => (fault = asError(thrown))),
		close: () => opened.lock?.release()
	};
}

const asError = (thrown: unknown): Error => (thrown instanceof Error ? thrown : new Error(String(thrown)));

const headOf = (run: string, events: readonly JournalEvent[]): Head => {
	const end = events[events.length - 1];
	return end ? { run, seq: end.seq, hash: end.hash } : beforeGenesis(run);
};

const beatOf = (clock: Clock): Beat => {
	const { at, mono, boot } = clock.now();
	return { at, mono, boot };
};

/**
 * Opens a run: takes the writer's lock, reads and mends both copies, and tells the journal that it was opened again.
 * Without the lock it can be looked at, not written.
 */
export async function openWalk(run: string, needs: WalkNeeds): Promise<{ walk: Walk; fault: { seq: number; reason: string } | null }> {
	const lock = await needs.store.lock(run);
	const opened = await needs.store.open(run);
	// a damaged journal is only looked at: nobody needs its lock
	if (opened.fault) lock?.release();
	const walk = createWalk({ run, events: opened.events, mended: opened.mended, lock: opened.fault ? null : lock }, needs);
	const end = opened.events[opened.events.length - 1];
	const { status } = walk.state;
	if (lock && !opened.fault && end && end.boot !== needs.clock.now().boot && (status === 'running' || status === 'paused' || status === 'held')) {
		const beat = await needs.store.lastBeat(run);
		const alive = beat && beat.boot === end.boot && beat.mono > end.mono ? beat : end;
		const mended = opened.mended.map(({ copy, what, fromSeq, events }) => `${copy} ${what} from ${fromSeq}: ${events}`);
		await walk.give({ id: 'reopen', last: { at: alive.at, mono: alive.mono, boot: alive.boot }, mended }, { via: 'guide' });
	}
	if (walk.writable) await noteInstrument(walk, needs);
	if (walk.writable) await walk.closeChain();
	return { walk, fault: opened.fault };
}

/** Writes what is known of the instrument into a run that is open, where the journal does not say so yet. */
async function noteInstrument(walk: Walk, { instrument }: WalkNeeds): Promise<void> {
	const { status, instrument: noted } = walk.state;
	if (!instrument || !(status === 'running' || status === 'paused' || status === 'held')) return;
	const used = instrument();
	if (canonical(used) !== canonical(noted)) await walk.give({ id: 'details', instrument: used }, { via: 'guide' });
}

/** Begins a run with its first drafts. The lock is taken before the first event is written. */
export async function beginWalk(run: string, drafts: readonly Draft[], person: string, needs: WalkNeeds): Promise<void> {
	const lock = await needs.store.lock(run);
	if (!lock) throw new Error('the new run is locked by another tab');
	try {
		const sealed: JournalEvent[] = [];
		let end = beforeGenesis(run);
		for (const draft of drafts) {
			const event = seal(draft, end, needs.clock.now(), { by: person, device: needs.device, via: 'touch' });
			sealed.push(event);
			end = { run, seq: event.seq, hash: event.hash };
		}
		await needs.store.append(run, sealed, lock);
	} finally {
		lock.release();
	}
}
