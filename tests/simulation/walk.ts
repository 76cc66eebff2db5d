import type { Edition } from '$lib/procedure/edition';
import { canonical } from '$lib/record/canonical';
import { beforeGenesis, type Head, seal, sha256Hex, type Stamp } from '$lib/record/chain';
import { type Beginning, beginRun } from '$lib/run/begin';
import type { Command, DecideContext, Decision } from '$lib/run/command';
import { decide } from '$lib/run/decide';
import type { Draft, Hand, JournalEvent, Via } from '$lib/run/events';
import { emptyState, fold } from '$lib/run/fold';
import type { RunState } from '$lib/run/state';

const startMs = Date.UTC(2026, 2, 2, 8);

/** RFC 3339 with offset and milliseconds of a wall clock that shows `offsetMin` from UTC. */
export function rfc3339(epochMs: number, offsetMin = 60): string {
	const sign = offsetMin < 0 ? '-' : '+';
	const two = (n: number) => String(n).padStart(2, '0');
	const zone = `${sign}${two(Math.floor(Math.abs(offsetMin) / 60))}:${two(Math.abs(offsetMin) % 60)}`;
	return new Date(epochMs + offsetMin * 60_000).toISOString().replace('Z', zone);
}

/** A tablet's two clocks, moved by the test only. */
export class TestClock {
	wall = startMs;
	mono = 5_000;
	boot = 'boot-1';
	offsetMin = 60;
	pass(ms: number): void {
		this.wall += ms;
		this.mono += ms;
	}
	/** The page was loaded anew: the monotonic clock starts at zero. */
	reload(afterMs: number): void {
		this.wall += afterMs;
		this.mono = 100;
		this.boot = `boot-${Number(this.boot.slice(5)) + 1}`;
	}
	now(): Stamp {
		return { at: rfc3339(this.wall, this.offsetMin), mono: this.mono, boot: this.boot };
	}
}

const unsealed = (draft: Draft, head: Head, stamp: Stamp, hand: Hand): JournalEvent =>
	({ v: 1, run: head.run, seq: head.seq + 1, ...draft, ...stamp, ...hand, prev: '', hash: '' }) as JournalEvent;

/** One run as a session would walk it: decides, seals, folds. Every press is `betweenMs` after the one before. */
export class Walk {
	state: RunState = emptyState;
	readonly events: JournalEvent[] = [];
	readonly clock = new TestClock();
	via: Via = 'key';
	device = 'tablet (invented)';
	betweenMs = 1_000;
	/** False: events carry no hashes, for walks of which only the meaning counts. */
	sealed = true;
	last: DecideContext['last'] = null;
	private head: Head = beforeGenesis('0'.repeat(31) + '1');

	/** Begins a run with all parts in their first start condition. */
	static begin(edition: Edition, more: Partial<Beginning> = {}, sealed = true): Walk {
		const walk = new Walk();
		walk.sealed = sealed;
		const stated = Object.fromEntries(
			edition.parts.map((part) => [part.id, { is: part.start[0] ?? '', known: 'seen' as const }])
		);
		const begun = beginRun({
			edition,
			editionHash: sealed ? sha256Hex(canonical(edition)) : '',
			key: null,
			person: 'Robin (invented)',
			left: null,
			stated: { ...stated, ...more.stated },
			zone: 'Europe/Berlin',
			invented: true,
			...Object.fromEntries(Object.entries(more).filter(([key]) => key !== 'stated'))
		});
		if (!begun.drafts) throw new Error(`the run does not begin: ${JSON.stringify(begun.missing)}`);
		walk.write(begun.drafts);
		return walk;
	}

	write(drafts: readonly Draft[]): void {
		for (const draft of drafts) {
			const hand = { by: 'Robin (invented)', device: this.device, via: this.via };
			const event = this.sealed
				? seal(draft, this.head, this.clock.now(), hand)
				: unsealed(draft, this.head, this.clock.now(), hand);
			this.head = { run: event.run, seq: event.seq, hash: event.hash };
			this.events.push(event);
			this.state = fold(this.state, event);
		}
	}

	/** Gives a command and writes what it comes to. */
	give(command: Command, asked: DecideContext['asked'] = null): Decision {
		const decision = this.decide(command, asked);
		if (decision.drafts) this.write(decision.drafts);
		return decision;
	}

	/** What a command comes to, without writing it. */
	decide(command: Command, asked: DecideContext['asked'] = null): Decision {
		this.clock.pass(this.betweenMs);
		const now = this.clock.now();
		const decision = decide(this.state, command, { now, last: this.last, asked, via: this.via, device: this.device });
		this.last = { command: command.id, mono: now.mono, boot: now.boot };
		return decision;
	}

	/** Gives a command and says yes to whatever is asked. */
	sure(command: Command): Decision {
		let decision = this.give(command);
		for (let i = 0; decision.ask?.yes && i < 5; i++) decision = this.give(decision.ask.yes);
		return decision;
	}

	/** Ends the step as a practised person would: hazards confirmed, waits cut short. */
	next(): Decision {
		let decision = this.give({ id: 'next' });
		for (let i = 0; decision.ask?.yes && i < 5; i++) {
			decision = this.give(decision.ask.yes);
			if (!decision.ask && this.events[this.events.length - 1]?.kind === 'confirmed')
				decision = this.give({ id: 'next' });
		}
		return decision;
	}

	answer(outcome: string): Decision {
		return this.sure({ id: 'answer', outcome });
	}

	read(value: number, unit = 'µm'): Decision {
		return this.sure({ id: 'digits', value, unit, raw: String(value) });
	}

	kinds(from = 0): string[] {
		return this.events.slice(from).map(({ kind }) => kind);
	}
}
