import { canonical } from '$lib/record/canonical';
import { sha256Hex } from '$lib/record/chain';
import { compileInvariant, compilePart, compileSetting } from './compile-parts';
import { compileLeftOut, compileStep, localised, type StepContext } from './compile-step';
import { readCondition, readEffects } from './condition-text';
import { always, type Condition, type Edition, type Route, type Stage, type Step, type Trouble } from './edition';
import type { Fault, Position } from './fault';
import { type Container, Flow } from './flow';
import { gather, type Gathered, type Include } from './gather';
import { plannedTimes } from './planned';
import { below, positionOf, Report, type Where } from './report';
import { type RawStep, unfold } from './unfold';
import { vocabularyOf } from './vocabulary';
import { idFrom, sameWords } from './words';

/** A compiled procedure: the edition, its hash, and where each piece stands in the text. */
export interface Compiled {
	readonly edition: Edition;
	/** SHA-256 hex of the edition's RFC 8785 form. */
	readonly hash: string;
	/**
	 * By step path; `STEP#needs`, `STEP#hazard`, `STEP#answer:ID`; `part:ID`, `setting:ID`, `invariant:ID`, `stage:ID`,
	 * `trouble:ID`, `ends`.
	 */
	readonly positions: ReadonlyMap<string, Position>;
}

/**
 * Compiles a procedure file. All faults of one pass come back in the order of the text; a text of any kind never throws.
 * `include` gives the text of an included file by its name.
 */
export function compileProcedure(text: string, file: string, include: Include = () => undefined): Compiled | { readonly faults: readonly Fault[] } {
	const report = new Report();
	const gathered = gather(text, file, include, report);
	const made = gathered && build(gathered, report);
	const { faults } = report;
	if (!made || faults.length > 0) return { faults };
	return { ...made, hash: editionHash(made.edition) };
}

/** SHA-256 hex of the RFC 8785 form of an edition. */
export const editionHash = (edition: Edition): string => sha256Hex(canonical(edition));

function build(gathered: Gathered, report: Report): Omit<Compiled, 'hash'> {
	const { procedure, where } = gathered;
	const { languages } = procedure;
	const parts = gathered.parts.map((p) => compilePart(p, languages, procedure.start?.[p.id], below(where, 'start', p.id), report));
	for (const id of Object.keys(procedure.start ?? {}))
		if (!parts.some((p) => p.id === id)) report.addUnknown(below(where, 'start', id), id, `no part is called "${id}"; expected one of ${parts.map((p) => p.id).join(', ')}`);
	const settings = gathered.settings.map((s) => compileSetting(s, languages, report));
	const vocabulary = vocabularyOf(parts, settings);
	const condition = (from: Parameters<typeof readCondition>[0], at: Where): Condition => readCondition(from, vocabulary, at, report);
	const positions = new Map<string, Position>();
	for (const [kind, list] of [['part', gathered.parts], ['setting', gathered.settings], ['invariant', gathered.invariants]] as const)
		for (const entry of list) positions.set(`${kind}:${entry.id}`, positionOf(entry.where));
	positions.set('ends', positionOf(below(where, 'ends')));

	const fragments = Object.fromEntries(gathered.fragments.map((f) => [f.id, { text: f.text, where: f.where }]));
	const stageTexts = procedure.stages.map((text, i) => {
		const title = localised(text.stage, languages, below(where, 'stages', i, 'stage'), report);
		return { text, title, id: text.id ?? idFrom(Object.values(title)[0] as string), where: below(where, 'stages', i) };
	});
	stageTexts.forEach(({ id, where: at }, i) => {
		if (stageTexts.findIndex((s) => s.id === id) < i) report.add(at, `the stage id "${id}" is taken by an earlier stage; expected an "id" of its own`);
	});
	const troubleTexts = Object.entries(procedure.troubles ?? {}).map(([id, text]) => {
		const at = below(where, 'troubles', id);
		return { id, text, where: at, title: localised(text.title, languages, below(at, 'title'), report) };
	});
	const stages: Container[] = stageTexts.map(({ id, title, text, where: at }) => ({ id, trouble: false, titles: [id, ...Object.values(title)], steps: unfold(text.steps, below(at, 'steps'), id, fragments, report) }));
	const troubles: Container[] = troubleTexts.map(({ id, title, text, where: at }) => ({
		id: `trouble:${id}`,
		trouble: true,
		titles: Object.values(title),
		steps: unfold(text.steps ?? [], below(at, 'steps'), `trouble:${id}`, fragments, report)
	}));

	const everyStep = [...stages, ...troubles].flatMap((container) => container.steps.map((step) => ({ step, container })));
	const flow = new Flow(stages, troubles, condition, report);

	const plannedMs = new Map<string, number>();
	const stagePlans = stages.map((stage, i) => {
		const { byPath, totalMs } = plannedTimes(stage.steps, stageTexts[i]?.text.plan, stageTexts[i]?.where as Where, report);
		for (const [path, ms] of byPath) plannedMs.set(path, ms);
		return totalMs;
	});
	for (const trouble of troubles) for (const [path, ms] of plannedTimes(trouble.steps, undefined, where, report).byPath) plannedMs.set(path, ms);

	const context: StepContext = { languages, vocabulary, flow, report, plannedMs };
	const steps: Record<string, Step> = {};
	for (const { step, container } of everyStep) {
		const made = compileStep(step, container.id, context);
		steps[step.path] = made;
		place(step, made);
	}

	const first = stages[0]?.steps[0];
	if (first?.gates[0]) report.add(first.gates[0].where, 'the first step has "only if"; expected a first step that always comes', true);
	const edition: Edition = {
		format: 1,
		id: procedure.procedure,
		version: procedure.version,
		languages,
		title: localised(procedure.title, languages, below(where, 'title'), report),
		summary: localised(procedure.summary, languages, below(where, 'summary'), report),
		parts,
		settings,
		stages: stageTexts.map(({ text, title, id, where: at }, i): Stage => {
			positions.set(`stage:${id}`, positionOf(at));
			const inStage = (stages[i] as Container).steps;
			const last = inStage.at(-1);
			const optional = text.optional === undefined || !last ? undefined : compileLeftOut(text.optional, last, context, below(at, 'optional'));
			return {
				id,
				title,
				short: text.short === undefined ? title : localised(text.short, languages, below(at, 'short'), report),
				plannedMs: stagePlans[i] as number,
				steps: inStage.map((s) => s.path),
				...(optional ? { optional } : {})
			};
		}),
		steps,
		invariants: gathered.invariants.map((entry) => compileInvariant(entry, languages, vocabulary, report)).filter((made) => made !== null),
		troubles: troubleTexts.map((entry, i) => trouble(entry, troubles[i] as Container)),
		ends: { complete: condition(procedure.ends.complete, below(where, 'ends', 'complete')), safe: condition(procedure.ends.safe, below(where, 'ends', 'safe')) },
		first: first?.path ?? ''
	};
	return { edition, positions };

	function place(step: RawStep, made: Step): void {
		positions.set(step.path, positionOf(step.where));
		positions.set(`${step.path}#needs`, positionOf(below(step.where, 'needs')));
		positions.set(`${step.path}#hazard`, positionOf(below(step.where, 'hazard')));
		const answers = Object.keys(step.text.answers ?? {});
		made.outcomes.forEach((outcome, i) => positions.set(`${step.path}#answer:${outcome.id}`, positionOf(answers[i] === undefined ? step.where : below(step.where, 'answers', answers[i]))));
	}

	function trouble({ id, text, title, where: at }: (typeof troubleTexts)[number], container: Container): Trouble {
		positions.set(`trouble:${id}`, positionOf(at));
		const stageOf = (name: string, i: number): string[] => {
			const found = stages.find((s) => s.titles.some((t) => sameWords(t) === sameWords(name)));
			if (!found) report.addUnknown(below(at, 'in stages', i), name, `no stage is called "${name}"; expected one of ${stages.map((s) => s.id).join(', ')}`);
			return found ? [found.id] : [];
		};
		return {
			id,
			title,
			stopFirst: text['stop first'],
			steps: (text['in steps'] ?? []).flatMap((name, i) => flow.find(name, [], below(at, 'in steps', i), 'stages')?.path ?? []),
			stages: (text['in stages'] ?? []).flatMap(stageOf),
			while: text.while === undefined ? always : condition(text.while, below(at, 'while')),
			set: text.sets === undefined ? [] : readEffects(text.sets, vocabulary, below(at, 'sets'), report),
			go: firstRoutes(text.go, container, at)
		};
	}

	/** Where a trouble begins: its first step, or what `go` says. */
	function firstRoutes(go: Parameters<Flow['routes']>[0], container: Container, at: Where): Route[] {
		const first = container.steps[0];
		if (first && go === undefined) return flow.enter(first);
		if (first) return flow.routes(go, first, below(at, 'go'));
		if (go === 'safe end') return [{ to: { end: 'safe' } }];
		report.add(at, 'the trouble has no steps; expected "steps", or "go: safe end"');
		return [];
	}
}
