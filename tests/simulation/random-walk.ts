import { holds } from '$lib/procedure/condition';
import type { Edition } from '$lib/procedure/edition';
import { allowed } from '$lib/run/allowed';
import type { Command } from '$lib/run/command';
import { foldAll } from '$lib/run/fold';
import type { RunState, UndoPoint } from '$lib/run/state';
import type { CheckedMap } from './checked-map';
import { Random } from './random';
import { Walk } from './walk';

/**
 * One random walk: answers, readings, troubles within troubles, step back, holding and stating, pausing, leaving out,
 * double presses, clock jumps, reloads, a crash between two events, another device, the safe end. After every command
 * what must be true is looked at; the first thing that is not is thrown with the seed and what was done.
 */
export class RandomWalk {
	readonly random: Random;
	readonly walk: Walk;
	readonly done: string[] = [];
	/** The person stated parts otherwise than the record: the checker's map says nothing of what follows. */
	private offMap = false;
	private held: { before: RunState['parts'] } | null = null;

	constructor(
		readonly seed: number,
		readonly edition: Edition,
		private readonly map: CheckedMap
	) {
		this.random = new Random(seed);
		this.walk = this.begin();
	}

	run(commands: number): RunState {
		for (let i = 0; i < commands && this.live(); i++) {
			this.one();
			this.look();
		}
		this.rebuilt();
		return this.walk.state;
	}

	private live(): boolean {
		return ['running', 'paused', 'held'].includes(this.walk.state.status);
	}

	private begin(): Walk {
		const { random, map, edition } = this;
		const inStage = random.chance(0.6) ? map.anywhere(random.below(1_000_000), random.below(1_000_000)) : null;
		const { parts, settings } = inStage ?? map.start(random.below(1_000_000));
		const stated = Object.fromEntries(
			Object.entries(parts).map(([part, is]) => [part, { is, known: 'seen' as const }])
		);
		this.done.push(`begin ${inStage?.step ?? 'at the start'} ${JSON.stringify(parts)}`);
		return Walk.begin(edition, { stated, settings, ...(inStage ? { at: inStage.step } : {}) }, false);
	}

	private give(command: Command): ReturnType<Walk['give']> {
		this.done.push(JSON.stringify(command));
		return this.walk.give(command);
	}

	private sure(command: Command): void {
		let decision = this.give(command);
		for (let i = 0; decision.ask?.yes && i < 5; i++) decision = this.give(decision.ask.yes);
	}

	private one(): void {
		const { random, walk } = this;
		walk.betweenMs = 701 + random.below(60_000);
		const dice = random.next();
		if (walk.state.status === 'held') return this.onFromHold();
		if (walk.state.status === 'paused' && dice < 0.9) return void this.sure({ id: 'resume' });
		if (dice < 0.72) return this.forward();
		if (dice < 0.78) return this.back();
		if (dice < 0.83) return this.trouble();
		if (dice < 0.85) return this.skip();
		if (dice < 0.87) return this.doublePress();
		if (dice < 0.89) return this.crash();
		if (dice < 0.91) return this.clocks();
		if (dice < 0.92) return void this.give({ id: 'pause' });
		if (dice < 0.93) return void this.give({ id: 'stop' });
		if (dice < 0.94) return this.otherDevice();
		if (dice < 0.945) return this.sure({ id: 'endVisit' });
		return this.fact();
	}

	private forward(): void {
		const { random, walk } = this;
		const step = walk.state.edition.steps[walk.state.step];
		const rows = new Map(allowed(walk.state).map((row) => [row.id, row]));
		if (rows.has('confirm')) return void this.give({ id: 'confirm' });
		const asked = rows.get('digits')?.readings?.[0];
		if (asked && random.chance(0.9)) {
			const [low, high] = random.chance(0.1)
				? [asked.min, asked.max]
				: asked.judged && random.chance(0.7)
					? [asked.judged.target, asked.judged.target]
					: asked.plausible;
			return this.sure({ id: 'digits', value: low + random.next() * (high - low), unit: asked.unit, raw: '?' });
		}
		const answers = rows.get('answer')?.answers ?? [];
		if (rows.has('next') && (answers.length < 2 || random.chance(0.7))) return this.sure({ id: 'next' });
		if (answers.length > 0) return this.sure({ id: 'answer', outcome: random.pick(answers).id });
		if (!asked) throw this.fault(`nothing leads on from ${step?.path ?? '?'}`);
	}

	private back(): void {
		const { undo } = this.walk.state;
		this.give({ id: 'back' });
		if (undo && this.walk.state.status === 'held') this.held = { before: undo.before.parts };
	}

	/** Only those that the procedure expects here: of others the checker says nothing. */
	private trouble(): void {
		const here = (allowed(this.walk.state).find(({ id }) => id === 'trouble')?.troubles ?? []).filter(
			(one) => one.here
		);
		// one that ends the visit is called seldom, or no walk would come far
		const called = here.filter(({ trouble }) => this.random.chance(0.05) || !trouble.go.some(({ to }) => 'end' in to));
		if (called.length > 0) this.give({ id: 'trouble', trouble: this.random.pick(called).trouble.id });
	}

	private skip(): void {
		const skips = allowed(this.walk.state).find(({ id }) => id === 'skip')?.skips;
		if (!skips) return;
		const { stage } = this.random.pick(skips);
		this.give({ id: 'skip', reason: 'at random', ...(stage === null ? {} : { stage }) });
	}

	private doublePress(): void {
		this.forward();
		const { walk } = this;
		const count = walk.events.length;
		walk.betweenMs = this.random.below(701);
		if (walk.last && ['next', 'answer', 'confirm', 'digits'].includes(walk.last.command)) {
			const decision = this.give(this.random.pick<Command>([{ id: 'next' }, { id: 'confirm' }, { id: 'yes' }]));
			const closed = walk.state.status === 'complete' || walk.state.status === 'aborted';
			if (walk.events.length !== count || (!closed && decision.refused?.key !== 'doublePress'))
				throw this.fault('a double press counted twice');
		}
	}

	/** The device dies after some of a command's events; the app is opened again. */
	private crash(): void {
		const { walk, random } = this;
		const last = walk.clock.now();
		const decision = walk.decide({ id: 'next', early: true });
		const drafts = decision.drafts ?? [];
		const kept = random.below(drafts.length + 1);
		this.done.push(`crash after ${kept} of ${drafts.map(({ kind }) => kind).join(', ')}`);
		walk.write(drafts.slice(0, kept));
		walk.clock.reload(random.below(600_000));
		if (this.live()) this.give({ id: 'reopen', last, mended: [] });
	}

	private clocks(): void {
		const { clock } = this.walk;
		const jump = this.random.pick([3_600_000, -3_600_000, 1_500, -20_000]);
		const what = this.random.below(3);
		if (what === 0) clock.wall += jump;
		else if (what === 1) clock.reload(1_000);
		else clock.offsetMin = clock.offsetMin === 60 ? 120 : 60;
	}

	private otherDevice(): void {
		this.give({ id: 'handOver', to: 'Kim (invented)' });
		this.walk.device = this.walk.device === 'other' ? 'tablet (invented)' : 'other';
		if (!this.give({ id: 'next' }).refused) throw this.fault('a device without the pen wrote');
		this.give({ id: 'takePen' });
	}

	private fact(): void {
		const facts: Command[] = [
			{ id: 'note', text: 'at random' },
			{ id: 'hands', are: 'clean' },
			{ id: 'booking', end: '2026-03-02T12:00:00+01:00' },
			{ id: 'late', done: '2026-03-02T08:00:00+01:00', words: '' },
			{ id: 'details', sample: 'S (invented)' },
			{ id: 'clockOffset', offsetMs: 12 }
		];
		this.give(this.random.pick(facts));
	}

	/** Looks at the parts and states them: as the record has them, or as they were before what was taken back. */
	private onFromHold(): void {
		const { walk, random } = this;
		const asBefore = this.held !== null && random.chance(0.5);
		if (this.held && !asBefore) this.offMap = true;
		const parts = asBefore && this.held ? this.held.before : walk.state.parts;
		this.held = null;
		const stated = Object.fromEntries(
			Object.entries(parts).map(([part, is]) => [part, { is, known: 'seen' as const }])
		);
		this.give({ id: 'parts', parts: stated, why: 'looked' });
		this.sure({ id: 'resume' });
		if (walk.state.status === 'held') this.sure({ id: 'abort', why: 'no way on', parts: stated });
	}

	private look(): void {
		const { state } = this.walk;
		if (state.contradictions)
			throw this.fault(
				`a decision wrote what cannot follow: ${state.contradictions.key} ${JSON.stringify(state.contradictions.params)}`
			);
		const { ends } = this.edition;
		if (state.status === 'complete' && !holds(ends.complete, state.parts, state.settings))
			throw this.fault('complete, but its condition does not hold');
		if (state.status !== 'running') return;
		if (state.due !== null) throw this.fault(`left between two steps, ${state.due} is due`);
		const entered = this.walk.events.findLast(({ kind }) => kind === 'stepEntered');
		if (entered?.seq !== state.seq || this.offMap) return;
		const broken = this.map.brokenInvariant(state.parts, state.settings);
		if (broken) throw this.fault(`the invariant ${broken} is broken`);
		if (!this.map.has(state.step, state.parts, state.settings))
			throw this.fault(`at ${state.step} with ${JSON.stringify(state.parts)}, which the checker calls impossible`);
	}

	private rebuilt(): void {
		if (flat(foldAll(this.walk.events)) !== flat(this.walk.state))
			throw this.fault('state rebuilt from nothing differs from the one kept');
	}

	private fault(what: string): Error {
		return new Error(`seed ${this.seed}: ${what}\n${this.done.slice(-40).join('\n')}`);
	}
}

/** A state in one line, its undo list unrolled once: two states of one journal are equal if these are. */
export function flat(state: RunState): string {
	const { edition: _, undo, ...rest } = state;
	const points: unknown[] = [];
	for (let point: UndoPoint | null = undo; point; point = point.next)
		points.push([
			point.events,
			point.moves,
			point.final,
			point.before.step,
			point.before.parts,
			point.before.readings,
			point.before.visits
		]);
	return JSON.stringify([rest, points]);
}
