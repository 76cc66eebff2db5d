import { unmet } from '../condition';
import type { Condition, Edition, StepPath } from '../edition';
import type { Position } from '../fault';
import type { PathStep } from './finding';
import type { By, Met } from './met';
import type { Reach } from './reach';
import type { TracedMove } from './trace';

export type Positions = ReadonlyMap<string, Position>;

/** Says what was met in the procedure's own titles (its first language). */
export class Say {
	private readonly language: string;

	constructor(
		private readonly reach: Reach,
		private readonly positions: Positions
	) {
		this.language = reach.code.edition.languages[0] ?? 'en';
	}

	private get edition(): Edition {
		return this.reach.code.edition;
	}

	/** The position of a key, or of the step that it belongs to. */
	position(at: string): Position | null {
		return this.positions.get(at) ?? this.positions.get(at.split('#')[0] ?? at) ?? null;
	}

	title(step: number): string {
		const found = this.reach.code.steps[step];
		return (found && this.edition.steps[found.path]?.words[this.language]?.full) || (found?.path ?? '?');
	}

	path(step: number): StepPath {
		return this.reach.code.steps[step]?.path ?? '?';
	}

	trouble(at: number): string {
		const found = this.edition.troubles[at];
		return found?.title[this.language] ?? found?.id ?? '?';
	}

	/** A condition in the names of the edition's parts. */
	condition(condition: Condition): string {
		if ('part' in condition) {
			const part = this.edition.parts.find(({ id }) => id === condition.part);
			const names = condition.is.map((is) => part?.conditions.find(({ id }) => id === is)?.name[this.language] ?? is);
			return `${part?.name[this.language] ?? condition.part} ${names.join(' or ')}`;
		}
		if ('setting' in condition) return `${this.edition.settings.find(({ id }) => id === condition.setting)?.name[this.language] ?? condition.setting} ${condition.is.join(' or ')}`;
		if ('not' in condition) return `not (${this.condition(condition.not)})`;
		const list = 'all' in condition ? condition.all : condition.any;
		if (list.length === 0) return 'all' in condition ? 'anything' : 'nothing';
		return list.map((one) => this.condition(one)).join('all' in condition ? ', ' : ' or ');
	}

	/** What of a condition is not true of these parts. */
	missing(condition: Condition, parts: number): string {
		const now = this.reach.code.coding.decode(this.reach.valuations.digits, parts * this.reach.valuations.width);
		const pieces = unmet(condition, now.parts, now.settings);
		const asked = [...new Set(pieces.flatMap((piece) => JSON.stringify(piece).match(/"part":"[^"]+"/g) ?? []).map((text) => text.slice(8, -1)))];
		const is = asked.map((part) => this.condition({ part, is: [now.parts[part] ?? '?'] })).join(', ');
		return `expected ${pieces.map((piece) => this.condition(piece)).join(', ')}${is ? `, but: ${is}` : ''}`;
	}

	private by(by: By, step: number): string {
		if (by.kind === 'outcome') {
			const outcomes = this.reach.code.steps[step]?.outcomes ?? [];
			return outcomes.length > 1 ? (outcomes[by.outcome]?.source.answer[this.language] ?? '') : '';
		}
		if (by.kind === 'trouble' || by.kind === 'resume') return `trouble "${this.trouble(by.trouble)}"`;
		if (by.kind === 'skip') return 'left out';
		return by.kind === 'join' ? 'the visit is ended' : '';
	}

	moves(moves: readonly TracedMove[]): PathStep[] {
		return moves.flatMap((move) => {
			const step = this.reach.space.step.at(move.state);
			const told = { step: this.path(step), title: this.title(step), then: this.by(move.by, step), position: this.position(this.path(step)) };
			return [told, ...this.moves(move.within)];
		});
	}

	/** Where the walk stands at the end of a path, as its last step. */
	standing(state: number, by: By): PathStep {
		const step = this.reach.space.step.at(state);
		return { step: this.path(step), title: this.title(step), then: this.by(by, step), position: this.position(this.path(step)) };
	}

	/** The sentence, and the key of the text it is about. */
	met(met: Met, state: number): { readonly sentence: string; readonly at: string } {
		const step = state < 0 ? met.step : this.reach.space.step.at(state);
		const here = this.path(step);
		const answer = met.by.kind === 'outcome' ? (this.reach.code.steps[step]?.outcomes[met.by.outcome]?.id ?? '') : '';
		const act = met.by.kind === 'outcome' ? `"${this.title(step)}"${this.by(met.by, step) ? ` answered "${this.by(met.by, step)}"` : ''}` : this.by(met.by, step) || 'the start';
		const { edition } = this;
		switch (met.rule) {
			case 'requirement': {
				const to = edition.steps[this.path(met.step)];
				return { sentence: `"${this.title(met.step)}" is entered with its requirement unmet (after ${act}): ${this.missing(to?.require ?? { all: [] }, met.parts)}`, at: `${this.path(met.step)}#needs` };
			}
			case 'invariant': {
				const invariant = edition.invariants[met.about as number];
				if (!invariant) return { sentence: '', at: here };
				const change = 'changes' in invariant;
				const before = change && state >= 0 ? this.reach.space.parts.at(state) : met.parts;
				const at = met.by.kind === 'trouble' ? `trouble:${edition.troubles[met.by.trouble]?.id}` : answer ? `${here}#answer:${answer}` : here;
				return { sentence: `"${invariant.words[this.language] ?? invariant.id}" is broken by ${act}: ${this.missing(change ? invariant.onlyWhile : invariant.always, before)}`, at };
			}
			case 'end':
				return { sentence: `the visit is complete after ${act} with its end's condition unmet: ${this.missing(edition.ends.complete, met.parts)}`, at: here };
			case 'unaccounted': {
				const [end, part] = String(met.about).split('|');
				const named = edition.parts.find(({ id }) => id === part);
				return { sentence: `the ${end} end is allowed at "${this.title(step)}" with ${this.condition({ part: part ?? '', is: [named?.unknown ?? ''] })}; expected every tip and slot to be known at an end`, at: 'ends' };
			}
			case 'tip':
				return { sentence: `${act}: ${met.about}; expected a tip to return to the slot that it left, and only if that is empty`, at: here };
			case 'nowhere':
				return { sentence: `${act} leads nowhere: ${met.about}`, at: answer ? `${here}#answer:${answer}` : here };
			case 'answer': {
				const other = this.by({ kind: 'outcome', outcome: met.about as number }, step);
				return { sentence: `${act} leaves the parts as the answer "${other}" says they are; expected it to set them, or "${other}" not to be offered then`, at: answer ? `${here}#answer:${answer}` : here };
			}
			case 'no outcome':
				return { sentence: `"${this.title(step)}" can't be ended: no answer is offered`, at: here };
			case 'safe end':
				return { sentence: `at "${this.title(step)}" the safe end can't be planned: no entry is open and the plain way leads to none; expected a step marked as entry that these parts allow`, at: here };
			case 'dead end':
				return { sentence: `from "${this.title(step)}" no end can be reached`, at: here };
			case 'no way back':
				return { sentence: `the trouble "${this.trouble(this.reach.code.steps[step]?.trouble ?? -1)}" can't be left from "${this.title(step)}"`, at: here };
		}
	}
}
