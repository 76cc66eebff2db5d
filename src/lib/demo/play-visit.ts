import type { Edition, Step } from '$lib/procedure/edition';
import { partsOf, type Scenario } from '$lib/procedure/scenario';
import { beforeGenesis, type Head, seal, sha256Hex, type Stamp } from '$lib/record/chain';
import { canonical } from '$lib/record/canonical';
import { endOf } from '$lib/record/close';
import { allowed } from '$lib/run/allowed';
import { beginRun } from '$lib/run/begin';
import type { Command, DecideContext, Decision } from '$lib/run/command';
import { decide } from '$lib/run/decide';
import type { Draft, JournalEvent, Via } from '$lib/run/events';
import { emptyState, fold } from '$lib/run/fold';
import { InventedHand } from './invented-hand';
import type { InventedVisit } from './invented-visit';
import type { Draws } from '$lib/timing/draws';

/** A clock that only the player moves (adapters/clock/simulated-clock.ts is one). */
export interface PlayedClock {
	now(): Stamp;
	advance(byMs: number): void;
}

/** A hand needs this long between two presses; faster ones count once. */
const PRESS_MS = 1500;
/** A pause now and then: the telephone, a colleague. */
const PAUSED = 0.003;
/** A visit that does not end by then is no visit. */
const MOST_PRESSES = 5000;

/**
 * Plays one invented visit through the real run engine and returns its sealed journal, marked as invented.
 * Same visit, same draws, same run id: the same bytes. Throws Error with the place where the visit cannot go on.
 */
export function playVisit(visit: InventedVisit, edition: Edition, scenario: Scenario, run: string, clock: PlayedClock, draws: Draws): JournalEvent[] {
	return new Player(visit, edition, scenario, run, clock, draws).play();
}

class Player {
	private state = emptyState;
	private readonly events: JournalEvent[] = [];
	private head: Head;
	private last: DecideContext['last'] = null;
	private readonly hand: InventedHand;
	private readonly person: string;
	private readonly supervisor: string | null;
	private readonly troubles: { trouble: string; in: string }[];
	private readonly undone: Set<string>;
	/** The step at which a visit cut short is ended. */
	private readonly endsAt: string | null;

	constructor(
		private readonly visit: InventedVisit,
		private readonly edition: Edition,
		private readonly scenario: Scenario,
		run: string,
		private readonly clock: PlayedClock,
		draws: Draws
	) {
		this.head = beforeGenesis(run);
		this.hand = new InventedHand(visit, draws);
		const nameOf = (id: string | null) => scenario.people.find((person) => person.id === id)?.name ?? null;
		this.person = nameOf(visit.person) ?? visit.person;
		this.supervisor = nameOf(visit.supervisor);
		this.troubles = [...visit.troubles];
		this.undone = new Set(visit.undone);
		const late = edition.stages.slice(-4, -2).flatMap(({ steps }) => steps);
		this.endsAt = visit.cutShort ? this.hand.pick(late) : null;
	}

	play(): JournalEvent[] {
		this.begin();
		if (this.scenario.instrument.clockOffsetMs) this.give({ id: 'clockOffset', offsetMs: this.scenario.instrument.clockOffsetMs });
		let entered = -1;
		for (let press = 0; this.state.status === 'running' || this.state.status === 'held'; press++) {
			if (press > MOST_PRESSES) throw this.stuck('does not end');
			const step = this.edition.steps[this.state.step];
			if (!step) throw this.stuck('stands at no step');
			if (this.state.status === 'held') this.onFromHold();
			else if (this.state.entered?.seq !== entered) {
				entered = this.state.entered?.seq ?? -1;
				this.standAt(step);
			} else this.walkOn(step);
		}
		this.close();
		return this.events;
	}

	/** Closed as every run is at its end; no device wrote it, so that none signs. */
	private close(): void {
		this.write([{ kind: 'closed', data: { ...endOf(this.events), signature: null } }], 'guide');
	}

	private begin(): void {
		const { visit, edition, scenario } = this;
		const known = new Set(edition.settings.map(({ id }) => id));
		const begun = beginRun({
			edition,
			editionHash: sha256Hex(canonical(edition)),
			key: null,
			person: this.person,
			supervisor: this.supervisor,
			sample: visit.sample,
			project: scenario.samples.find(({ id }) => id === visit.sample)?.project ?? '',
			booking: { start: visit.start, end: visit.bookingEnd },
			settings: Object.fromEntries(Object.entries(scenario.instrument.settings).filter(([id]) => known.has(id))),
			left: null,
			stated: Object.fromEntries(Object.entries(partsOf(visit, edition)).map(([part, is]) => [part, { is, known: 'seen' as const }])),
			zone: scenario.zone,
			invented: true
		});
		if (!begun.drafts) throw new Error(`the invented visit of ${visit.start} does not begin: ${JSON.stringify(begun.missing)}`);
		this.write(begun.drafts);
	}

	/** What happens in a step before it is ended: time, and now and then a pause, a trouble, the end of the visit. */
	private standAt(step: Step): void {
		const lastsMs = this.hand.lasts(step);
		const trouble = this.troubleHere(step);
		this.clock.advance(trouble ? lastsMs * this.hand.between(0.2, 0.8) : lastsMs);
		if (this.hand.happens(PAUSED)) {
			this.give({ id: 'pause', reason: 'away' });
			this.clock.advance(this.hand.between(120_000, 900_000));
			this.give({ id: 'resume' });
		}
		if (trouble) this.sure({ id: 'trouble', trouble });
		else if (step.path === this.endsAt && !this.state.ending) this.sure({ id: 'endVisit', why: 'no time' });
		else if (this.visit.leaveOut.includes(step.stage)) this.leaveOut(step);
	}

	private leaveOut(step: Step): void {
		const skips = allowed(this.state).find(({ id }) => id === 'skip')?.skips;
		if (skips?.some(({ stage }) => stage === step.stage)) this.give({ id: 'skip', reason: 'no time', stage: step.stage });
	}

	private troubleHere(step: Step): string | undefined {
		const told = this.troubles.findIndex((each) => each.in === step.path);
		if (told >= 0) return this.troubles.splice(told, 1)[0]?.trouble;
		if (this.state.frames || this.state.ending || !this.hand.happens(this.visit.troubled)) return undefined;
		const here = allowed(this.state).find(({ id }) => id === 'trouble')?.troubles ?? [];
		// those that end the visit are left to the scenario
		const likely = here.filter(({ trouble, here }) => here && !trouble.go.some(({ to }) => 'end' in to) && !trouble.stopFirst);
		return likely.length > 0 ? this.hand.pick(likely).trouble.id : undefined;
	}

	private walkOn(step: Step): void {
		const rows = new Map(allowed(this.state).map((row) => [row.id, row]));
		const asked = rows.get('digits')?.readings?.[0];
		if (rows.has('confirm')) this.give({ id: 'confirm' });
		else if (asked) {
			const value = this.hand.reads(asked, step, this.state);
			this.sure({ id: 'digits', reading: asked.id, value, unit: asked.unit, raw: String(value) });
		} else this.endStep(step, rows.get('answer')?.answers ?? rows.get('next')?.answers ?? []);
	}

	private endStep(step: Step, offered: NonNullable<ReturnType<typeof allowed>[number]['answers']>): void {
		if (offered.length === 0) throw this.stuck('offers no way on');
		this.sure({ id: 'answer', outcome: this.hand.answers(this.state, step, offered).id, early: true });
		if (!this.undone.delete(step.path) || this.state.status !== 'running') return;
		this.clock.advance(this.hand.between(4000, 20_000));
		this.give({ id: 'back' });
	}

	/** Looks at the parts and states them as the record has them. */
	private onFromHold(): void {
		const seen = Object.fromEntries(Object.entries(this.state.parts).map(([part, is]) => [part, { is, known: 'seen' as const }]));
		this.clock.advance(this.hand.between(60_000, 240_000));
		this.give({ id: 'parts', parts: seen, why: 'looked' });
		this.sure({ id: 'resume' });
		if (this.state.status === 'held') throw this.stuck(`is held: ${this.state.held?.about ?? ''}`);
	}

	private give(command: Command): Decision {
		this.clock.advance(PRESS_MS);
		const now = this.clock.now();
		const decision = decide(this.state, command, { now, last: this.last, asked: null, via: 'pedal', device: DEVICE });
		this.last = { command: command.id, mono: now.mono, boot: now.boot };
		if (decision.refused) throw this.stuck(`refuses ${command.id}: ${decision.refused.key}`);
		if (decision.drafts) this.write(decision.drafts);
		return decision;
	}

	/** Gives a command and says yes to what is asked. */
	private sure(command: Command): void {
		let decision = this.give(command);
		for (let i = 0; decision.ask?.yes && i < 5; i++) decision = this.give(decision.ask.yes);
	}

	private write(drafts: readonly Draft[], via: Via = 'pedal'): void {
		for (const draft of drafts) {
			const under = this.supervisor === null ? {} : { under: this.supervisor };
			const event = seal(draft, this.head, this.clock.now(), { by: this.person, ...under, device: DEVICE, via });
			this.head = { run: event.run, seq: event.seq, hash: event.hash };
			this.events.push(event);
			this.state = fold(this.state, event);
		}
	}

	private stuck(how: string): Error {
		return new Error(`the invented visit of ${this.visit.start} by ${this.person} ${how}, at ${this.state.step}`);
	}
}

const DEVICE = 'tablet (invented)';
