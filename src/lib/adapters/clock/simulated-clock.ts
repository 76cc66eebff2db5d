import type { Clock } from '$lib/ports/clock';
import { rfc3339 } from '$lib/record/rfc3339';

export interface SimulatedClockOptions {
	/** Milliseconds since the epoch at the start. */
	readonly wallMs: number;
	/** Minutes east of UTC; 0 if not given. */
	readonly offsetMin?: number;
	readonly zone?: string;
	readonly boot?: string;
}

interface Timer {
	due: number;
	readonly everyMs: number | null;
	readonly call: () => void;
}

/** A clock that only tests move: both clocks together, or one without the other. Timers fire in the order they are due. */
export class SimulatedClock implements Clock {
	readonly zone: string;
	#wallMs: number;
	#offsetMin: number;
	#monoMs = 0;
	#boot: string;
	/** Time that timers run by: it moves with the monotonic clock and never begins anew. */
	#awakeMs = 0;
	readonly #timers = new Set<Timer>();

	constructor({ wallMs, offsetMin = 0, zone = 'UTC', boot = 'boot-1' }: SimulatedClockOptions) {
		this.#wallMs = wallMs;
		this.#offsetMin = offsetMin;
		this.zone = zone;
		this.#boot = boot;
	}

	now = () => ({ at: rfc3339(this.#wallMs, this.#offsetMin), mono: this.#monoMs, boot: this.#boot });
	wallMs = () => this.#wallMs;
	every = (everyMs: number, tick: () => void) => this.#start({ due: this.#awakeMs + everyMs, everyMs, call: tick });
	after = (afterMs: number, then: () => void) => this.#start({ due: this.#awakeMs + afterMs, everyMs: null, call: then });

	/** Time goes by; timers that come due fire at their moment. */
	advance(byMs: number): void {
		const end = this.#awakeMs + byMs;
		for (let next = this.#nextDue(end); next; next = this.#nextDue(end)) {
			this.#move(next.due - this.#awakeMs);
			if (next.everyMs === null) this.#timers.delete(next);
			else next.due += next.everyMs;
			next.call();
		}
		this.#move(end - this.#awakeMs);
	}

	/** The wall clock is set forward or back; the monotonic one goes on. */
	setWall(byMs: number): void {
		this.#wallMs += byMs;
	}

	/** Daylight saving begins or ends, or the tablet travels. */
	setOffset(offsetMin: number): void {
		this.#offsetMin = offsetMin;
	}

	/** The device sleeps: the wall clock goes on, the monotonic one and all timers stand still. */
	sleep(forMs: number): void {
		this.#wallMs += forMs;
	}

	/** A reload: the monotonic clock begins anew, timers are gone. */
	restart(boot: string, downMs = 0): void {
		this.#wallMs += downMs;
		this.#monoMs = 0;
		this.#boot = boot;
		this.#timers.clear();
	}

	#move(byMs: number): void {
		this.#wallMs += byMs;
		this.#monoMs += byMs;
		this.#awakeMs += byMs;
	}

	#nextDue(end: number): Timer | undefined {
		let next: Timer | undefined;
		for (const timer of this.#timers) if (timer.due <= end && (!next || timer.due < next.due)) next = timer;
		return next;
	}

	#start(timer: Timer): () => void {
		if (timer.everyMs !== null && !(timer.everyMs > 0)) throw new RangeError(`a timer every ${timer.everyMs} ms; expected more than 0`);
		this.#timers.add(timer);
		return () => void this.#timers.delete(timer);
	}
}
