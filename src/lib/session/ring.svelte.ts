import type { Clock } from '$lib/ports/clock';

/** Something that a press would do: a target on the screen, found where it stands. */
export interface RingTarget {
	readonly label: string;
	/** Lights it up. */
	light(): void;
	/** Gives the keys back to the walk. */
	dim(): void;
	press(): void;
	/** Shows the number by which it can be taken by voice; null: none. */
	number(is: number | null): void;
	/** The ring goes on from its beginning after it: a digit is seldom alone. */
	readonly stays: boolean;
}

/** Switch scanning: one choice after another is lit; a press takes the one that is lit. With one pedal everything is reached. */
export interface Ring {
	readonly on: boolean;
	/** Names of all choices, in their order. */
	readonly labels: readonly string[];
	readonly at: number;
	begin(): void;
	take(): void;
	end(): void;
}

/** Rounds after which the ring goes dark by itself. */
const ROUNDS = 3;

/** `targets` reads what is on the screen now; `restMs` is how long each choice is lit. */
export function createRing(clock: Clock, restMs: () => number, targets: () => readonly RingTarget[]): Ring {
	let lit = $state.raw<{ list: readonly RingTarget[]; at: number; passed: number } | null>(null);
	let stop: (() => void) | null = null;

	function rest(): void {
		stop?.();
		stop = clock.after(restMs(), () => {
			if (!lit) return;
			const at = (lit.at + 1) % lit.list.length;
			const passed = lit.passed + 1;
			if (passed >= lit.list.length * ROUNDS) return end();
			lit = { ...lit, at, passed };
			lit.list[at]?.light();
			rest();
		});
	}
	function begin(): void {
		const list = targets();
		if (list.length === 0) return end();
		lit = { list, at: 0, passed: 0 };
		list[0]?.light();
		rest();
	}
	function end(): void {
		stop?.();
		stop = null;
		lit?.list[lit.at]?.dim();
		lit = null;
	}
	return {
		get on() {
			return lit !== null;
		},
		get labels() {
			return lit?.list.map(({ label }) => label) ?? [];
		},
		get at() {
			return lit?.at ?? 0;
		},
		begin,
		take() {
			const taken = lit?.list[lit.at];
			end();
			taken?.press();
			// the screen changes first, then what it offers is read anew
			if (taken?.stays) stop = clock.after(120, begin);
		},
		end
	};
}
