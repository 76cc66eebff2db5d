import type { Condition, Route, Target } from './edition';
import { didYouMean } from './nearest';
import { below, type Report, type Where } from './report';
import type { ConditionText, GoText } from './schema';
import { readTarget, targetForms } from './target-text';
import type { RawStep } from './unfold';
import { sameWords } from './words';

/** Routes that one way on may divide into; more come only from a file made to blow up. */
const mostRoutes = 64;

/** A stage's or a trouble's steps in order, `only if` read. */
export interface Container {
	readonly id: string;
	readonly trouble: boolean;
	readonly titles: readonly string[];
	readonly steps: readonly RawStep[];
}

/** Turns what authors write ("next", `repeat "Title"`) into routes between steps. */
export class Flow {
	private readonly byName = new Map<string, RawStep[]>();
	private readonly gates = new Map<object | string, Condition>();
	private readonly place = new Map<string, { container: Container; index: number }>();

	constructor(
		private readonly stages: readonly Container[],
		private readonly troubles: readonly Container[],
		private readonly read: (text: ConditionText, where: Where) => Condition,
		private readonly report: Report
	) {
		for (const container of [...stages, ...troubles]) {
			container.steps.forEach((step, index) => {
				this.place.set(step.path, { container, index });
				const { text, kind } = step;
				const names = [step.path, step.segments.at(-1) as string, text[kind] as string, text.short ?? '', ...step.opens, ...step.opens.map((o) => o.split('/').at(-1) as string)];
				for (const name of new Set(names.map(sameWords))) if (name) this.name(name, step);
			});
			const first = container.steps[0];
			if (first) for (const title of container.titles) if (!this.byName.has(sameWords(title))) this.name(sameWords(title), first);
		}
	}

	private name(name: string, step: RawStep): void {
		const known = this.byName.get(name);
		if (known) known.push(step);
		else this.byName.set(name, [step]);
	}

	/** Routes of what the author wrote; `next` when nothing was written. */
	routes(go: GoText | undefined, from: RawStep, where: Where): Route[] {
		if (go === undefined || typeof go === 'string') return this.target(go ?? 'next', from, where);
		const routes: Route[] = [];
		go.forEach((item, i) => {
			const here = below(where, i);
			const last = i === go.length - 1;
			if (typeof item === 'string') {
				if (!last) this.report.add(here, 'a plain target stands before the end of the list; expected "if" and "go" here, and the plain one last');
				routes.push(...this.target(item, from, here));
			} else {
				if (last) this.report.add(here, 'the last target has an "if"; expected a plain one last, for when no condition holds');
				const when = this.read(item.if, below(here, 'if'));
				routes.push(...this.target(item.go, from, below(here, 'go')).map((r) => ({ when: r.when ? { all: [when, r.when] } : when, to: r.to })));
			}
		});
		return routes;
	}

	/** One target without a condition, for what may be left out. Null (and a fault) where the way divides. */
	single(go: string | undefined, from: RawStep, where: Where): Target | null {
		const routes = this.target(go ?? 'next', from, where);
		if (routes.length === 1) return (routes[0] as Route).to;
		return routes.length === 0 ? null : this.report.add(where, 'leaving this out leads to a step with "only if"; expected "go" with a step that always comes');
	}

	/** The step that a reference names, seen from a step (or from a container's first, for troubles). */
	find(name: string, from: readonly string[], where: Where, among: 'stages' | 'all' = 'all'): RawStep | null {
		const wanted = sameWords(name);
		let best: RawStep[] = [];
		let nearestBy = -1;
		for (const step of this.byName.get(wanted) ?? []) {
			if (among === 'stages' && this.place.get(step.path)?.container.trouble) continue;
			let common = 0;
			while (common < from.length && from[common] === step.segments[common]) common++;
			if (common > nearestBy) [best, nearestBy] = [[step], common];
			else if (common === nearestBy) best.push(step);
		}
		if (best.length === 0) {
			const short = name.length > 80 ? `${name.slice(0, 77)}…` : name;
			return this.report.addUnknown(where, name, `no step is called "${short}"${didYouMean(wanted, this.byName.keys()) || '; expected the wording, short wording, id or path of a step'}`);
		}
		if (best.length > 1) return this.report.add(where, `"${name}" means ${best.length} steps (${best.slice(0, 4).map((s) => s.path).join(', ')}); expected the path of one`);
		return best[0] as RawStep;
	}

	/** All routes that enter a step, or what follows it while its `only if` does not hold. */
	enter(step: RawStep, as: (path: string) => Target = (path) => ({ step: path })): Route[] {
		const routes = this.entering(step, as, { left: mostRoutes });
		if (routes.length <= mostRoutes) return routes;
		this.report.add(step.where, `more than ${mostRoutes} steps with "only if" stand in a row; expected fewer`);
		return [];
	}

	private entering(step: RawStep, as: (path: string) => Target, budget: { left: number }): Route[] {
		if (--budget.left < 0) return Array.from({ length: mostRoutes + 1 }, () => ({ to: as(step.path) }));
		const gates = step.gates.map(({ text, where, last }) => ({ holds: this.gate(text, where), last }));
		if (gates.length === 0) return [{ to: as(step.path) }];
		const [first] = gates;
		const routes: Route[] = [{ when: gates.length === 1 && first ? first.holds : { all: gates.map((g) => g.holds) }, to: as(step.path) }];
		gates.forEach(({ holds, last }, i) => {
			const { container, index } = this.place.get(last) as { container: Container; index: number };
			const next = container.steps[index + 1] ?? (container.trouble ? null : this.nextStage(container));
			if (!next && container.trouble) {
				this.report.add(step.where, 'the last step of a trouble has "only if"; expected a last step that always comes, with a way back');
				return;
			}
			const passing: Route[] = next ? this.entering(next, as, budget) : [{ to: { end: 'complete' } }];
			// the last gate is the one that fails where no other did
			const not: Condition = { not: holds };
			routes.push(...(i === gates.length - 1 ? passing : passing.map((r) => ({ when: r.when ? { all: [not, r.when] } : not, to: r.to }))));
		});
		return routes;
	}

	/** A gate's condition; read once, so that a fault in it is told once. */
	private gate(text: ConditionText, where: Where): Condition {
		const known = this.gates.get(text as object | string);
		if (known) return known;
		const made = this.read(text, where);
		this.gates.set(text as object | string, made);
		return made;
	}

	private following(step: RawStep): RawStep | null {
		const { container, index } = this.place.get(step.path) as { container: Container; index: number };
		const next = container.steps[index + 1];
		if (next || container.trouble) return next ?? null;
		return this.nextStage(container);
	}

	private nextStage(container: Container): RawStep | null {
		const at = this.stages.indexOf(container);
		return this.stages.slice(at + 1).find((stage) => stage.steps.length > 0)?.steps[0] ?? null;
	}

	private target(text: string, from: RawStep, where: Where): Route[] {
		const target = readTarget(text);
		if (!target) {
			this.report.add(where, `"${text.slice(0, 80)}" is no way on; expected ${targetForms}`);
			return [];
		}
		const { container } = this.place.get(from.path) as { container: Container };
		const orComplete = (step: RawStep | null): Route[] => (step ? this.enter(step) : [{ to: { end: 'complete' } }]);
		switch (target.to) {
			case 'next': {
				const next = this.following(from);
				if (next || !container.trouble) return orComplete(next);
				this.report.add(where, 'the last step of a trouble ends without a way back; expected back, back to "Title", safe end or trouble NAME under "then"');
				return [];
			}
			case 'next stage':
				if (!container.trouble) return orComplete(this.nextStage(container));
				this.report.add(where, '"next stage" stands in a trouble; expected back to "Title"');
				return [];
			case 'leave': {
				if (from.segments.length < 3) {
					this.report.add(where, '"leave" stands outside a fragment; expected next stage, or go to "Title"');
					return [];
				}
				const use = `${from.segments.slice(0, -1).join('/')}/`;
				const next = this.following(container.steps.findLast((step) => step.path.startsWith(use)) ?? from);
				if (next || !container.trouble) return orComplete(next);
				this.report.add(where, 'nothing follows this fragment in its trouble; expected a step behind it, with a way back');
				return [];
			}
			case 'repeat':
				return [{ to: { step: from.path } }];
			case 'complete':
				return [{ to: { end: 'complete' } }];
			case 'safe end':
				return [{ to: { end: 'safe' } }];
			case 'back':
				if (container.trouble) return [{ to: { back: 'same' } }];
				this.report.add(where, '"back" stands outside a trouble; expected repeat "Title" or go to "Title"');
				return [];
			case 'trouble': {
				const trouble = this.troubles.find((t) => [t.id.slice('trouble:'.length), ...t.titles].some((n) => sameWords(n) === sameWords(target.name)));
				if (trouble) return [{ to: { trouble: trouble.id.slice('trouble:'.length) } }];
				this.report.addUnknown(where, target.name, `no trouble is called "${target.name}"${didYouMean(target.name, this.troubles.map((t) => t.id.slice('trouble:'.length)))}`);
				return [];
			}
			case 'back to': {
				const step = this.find(target.name, from.segments, where, 'stages');
				if (!step) return [];
				if (container.trouble) return this.enter(step, (path) => ({ back: path }));
				this.report.add(where, '"back to" stands outside a trouble; expected repeat "Title" or go to "Title"');
				return [];
			}
			default:
				return this.step(target.name, target.to === 'earlier step', from, where);
		}
	}

	private step(name: string, earlier: boolean, from: RawStep, where: Where): Route[] {
		const step = this.find(name, from.segments, where);
		if (!step) return [];
		const here = this.place.get(from.path) as { container: Container; index: number };
		const there = this.place.get(step.path) as { container: Container; index: number };
		if (here.container.trouble && here.container !== there.container) {
			this.report.add(where, `"${name}" is a step outside this trouble; expected back to "${name}"`);
			return [];
		}
		if (!here.container.trouble && there.container.trouble) {
			this.report.add(where, `"${name}" is a step of a trouble; expected trouble ${there.container.id.slice('trouble:'.length)}`);
			return [];
		}
		const order = this.stages.indexOf(there.container) - this.stages.indexOf(here.container) || there.index - here.index;
		if (earlier && order > 0) this.report.add(where, `"${name}" comes later; expected go to "${name}", because repeat leads to an earlier step`);
		return this.enter(step);
	}
}
