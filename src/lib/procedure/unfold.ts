import { limits } from './limits';
import { didYouMean } from './nearest';
import { below, type Report, type Where } from './report';
import type { ConditionText, FragmentText, StepText } from './schema';
import type { Plain } from './source';
import { idFrom, kinds } from './words';

/** One step of a stage or a trouble, fragments unfolded and parameters put in. */
export interface RawStep {
	readonly text: StepText;
	readonly kind: (typeof kinds)[number];
	readonly where: Where;
	/** Path by segments: container, fragment uses, id. */
	readonly segments: readonly string[];
	readonly path: string;
	/** Paths of the fragment uses of which this is the first step. */
	readonly opens: readonly string[];
	/** What must hold for the walk to enter here, outermost first. */
	readonly gates: readonly Gate[];
}

/** `only if` of a step or of a fragment's use: while it doesn't hold, the walk goes on behind the step at `last`. */
export interface Gate {
	readonly text: ConditionText;
	readonly where: Where;
	readonly last: string;
}

export interface Fragments {
	readonly [name: string]: { readonly text: FragmentText; readonly where: Where };
}

/** The steps of a stage or a trouble in order. `container`: stage id or `trouble:id`. */
export function unfold(steps: readonly StepText[], where: Where, container: string, fragments: Fragments, report: Report): RawStep[] {
	const out: RawStep[] = [];
	const taken = new Set<string>();
	lay(steps, where, [container], {}, []);
	return out;

	function lay(list: readonly StepText[], at: Where, segments: readonly string[], values: Values, within: readonly string[]): void {
		for (const [i, raw] of list.entries()) {
			const here = below(at, i);
			if (out.length >= limits.steps) return void report.add(here, `more than ${limits.steps} steps once fragments are unfolded; expected fewer`);
			const step = putIn(raw, values, here, report);
			if (step.use !== undefined) use(step, here, segments, within);
			else plain(step, here, segments);
		}
	}

	function plain(step: StepText, here: Where, segments: readonly string[]): void {
		const said = kinds.filter((kind) => step[kind] !== undefined);
		if (said.length !== 1) {
			const what = said.length === 0 ? 'the step says no kind' : `the step says ${said.join(' and ')}`;
			report.add(here, `${what}; expected exactly one of ${kinds.join(', ')} (or "use" for a fragment)`);
			if (said.length === 0) return;
		}
		if (step.with) report.add(below(here, 'with'), '"with" stands without "use"; expected it beside the fragment it is for', true);
		const kind = said[0] as RawStep['kind'];
		const path = [...segments, step.id ?? idFrom(step.short ?? (step[kind] as string))];
		const gates = step['only if'] === undefined ? [] : [{ text: step['only if'], where: below(here, 'only if'), last: path.join('/') }];
		place({ text: step, kind, where: here, segments: path, path: path.join('/'), opens: [], gates });
	}

	function place(step: RawStep): void {
		if (taken.has(step.path)) return void report.add(step.where, `the path "${step.path}" is taken by an earlier step; expected an "id" of its own`);
		taken.add(step.path);
		out.push(step);
	}

	function use(step: StepText, here: Where, segments: readonly string[], within: readonly string[]): void {
		const name = step.use as string;
		const others = Object.keys(step).filter((key) => !['use', 'with', 'id', 'only if'].includes(key) && step[key as keyof StepText] !== undefined);
		if (others.length > 0) report.add(below(here, others[0] as string), `"${others[0]}" stands beside "use"; expected only "with", "id" and "only if" there`, true);
		const fragment = Object.hasOwn(fragments, name) ? fragments[name] : undefined;
		if (!fragment) return void report.addUnknown(below(here, 'use'), name, `no fragment is called "${name}"${didYouMean(name, Object.keys(fragments))}`);
		if (within.includes(name)) return void report.add(below(here, 'use'), `the fragment "${name}" uses itself; expected fragments without circles`);
		if (within.length >= limits.fragmentDepth) return void report.add(below(here, 'use'), `fragments are nested deeper than ${limits.fragmentDepth}; expected fewer levels`);
		const wanted = fragment.text.with ?? [];
		const given = step.with ?? {};
		for (const key of wanted) if (!Object.hasOwn(given, key)) report.add(here, `the fragment "${name}" needs "${key}"; expected it under "with"`);
		for (const key of Object.keys(given)) if (!wanted.includes(key)) report.add(below(here, 'with', key), `the fragment "${name}" has no "${key}"${didYouMean(key, wanted)}`, true);
		const id = step.id ?? idFrom([name, ...wanted.map((key) => given[key] ?? '')].join(' '));
		const begin = out.length;
		const path = [...segments, id];
		lay(fragment.text.steps, below(fragment.where, 'steps'), path, given, [...within, name]);
		const opened = out[begin];
		if (!opened) return;
		const gate = step['only if'] === undefined ? [] : [{ text: step['only if'], where: below(here, 'only if'), last: (out.at(-1) as RawStep).path }];
		out[begin] = { ...opened, opens: [...opened.opens, path.join('/')], gates: [...gate, ...opened.gates] };
	}
}

type Values = Readonly<Record<string, string | number>>;

/** A step with `<name>` replaced by its value in every text and key. */
function putIn(step: StepText, values: Values, where: Where, report: Report): StepText {
	const missing = new Set<string>();
	const put = (text: string): string =>
		text.replace(/<([a-z][a-z0-9-]*)>/g, (all, name: string) => {
			if (Object.hasOwn(values, name)) return String(values[name]);
			missing.add(name);
			return all;
		});
	const walk = (value: Plain): Plain => {
		if (typeof value === 'string') return put(value);
		if (Array.isArray(value)) return value.map(walk);
		if (value === null || typeof value !== 'object') return value;
		return Object.fromEntries(Object.entries(value).map(([key, item]) => [put(key), walk(item)]));
	};
	const result = walk(step as unknown as Plain) as unknown as StepText;
	for (const name of missing)
		report.add(where, `"<${name}>" has no value here; expected one of the fragment's parameters${Object.keys(values).length > 0 ? ` (${Object.keys(values).join(', ')})` : ', and this step stands in no fragment that has any'}`);
	return result;
}
