import { COMMANDS } from '$lib/run/commands';
import type { Edition, Step, StepPath } from './edition';
import { editDistance } from './phoneme-distance';
import { type Sound, soundOf } from './pronunciation';

/**
 * Words that can be said at the same moment must differ by at least this many phonemes. Two is the most that can be
 * asked: the digits, which every number needs and nobody can reword, differ by exactly two at their nearest (one and
 * nine, five and nine). One lost or mistaken phoneme then never turns one word into another.
 */
export const LIMIT = 2;

export interface SoundFinding {
	/** `alike`: two words are too near, a fault. `unknown`: the dictionary lacks a word, a hint. */
	readonly kind: 'alike' | 'unknown';
	readonly at: StepPath;
	readonly sentence: string;
	readonly words: readonly string[];
	readonly distance?: number;
}

interface Word {
	readonly text: string;
	/** Words of the same owner may be alike: two ways to say the same. */
	readonly owner: string;
	readonly answer: boolean;
}

/** Looks at every step: its answers against each other and against the commands that are open at it. English only. */
export function soundFindings(edition: Edition): SoundFinding[] {
	const language = edition.languages.find((tag) => tag === 'en' || tag.startsWith('en-'));
	if (language === undefined) return [];
	const sounds = new Map<string, Sound>();
	const sound = (text: string): Sound => {
		const known = sounds.get(text) ?? soundOf(text);
		sounds.set(text, known);
		return known;
	};
	const findings = new Map<string, SoundFinding>();
	for (const step of Object.values(edition.steps)) {
		const answers = answersOf(step, language);
		const open = [...answers, ...commandsAt(step)];
		for (const { text } of answers) {
			const { unknown } = sound(text);
			if (unknown.length === 0 || findings.has(text)) continue;
			const sentence = `how "${unknown.join('", "')}" in the answer "${text}" sounds is not known: it is compared letter by letter; expected words of the pronouncing dictionary`;
			findings.set(text, { kind: 'unknown', at: step.path, sentence, words: [text] });
		}
		for (const [i, one] of answers.entries())
			for (const other of open.slice(i + 1)) {
				if (one.owner === other.owner) continue;
				const key = [one.text, other.text].sort().join('|');
				const distance = findings.has(key) ? LIMIT : apart(sound(one.text), sound(other.text));
				if (distance >= LIMIT) continue;
				const sentence = `"${one.text}" and "${other.text}" can be said at the same moment and differ by ${distance} ${distance === 1 ? 'phoneme' : 'phonemes'}; expected at least ${LIMIT}`;
				findings.set(key, { kind: 'alike', at: step.path, sentence, words: [one.text, other.text], distance });
			}
	}
	return [...findings.values()];
}

/** Distance of two texts: the least over all ways to say them. */
export function apart(a: Sound, b: Sound): number {
	return Math.min(...a.ways.flatMap((one) => b.ways.map((other) => editDistance(one, other))));
}

function answersOf(step: Step, language: string): Word[] {
	// a step of one outcome is ended by "next"; what readings decide is not said
	if (step.outcomes.length < 2) return [];
	return step.outcomes.flatMap((outcome) => {
		const text = outcome.answer[language];
		return outcome.when !== undefined || text === undefined ? [] : [{ text, owner: `answer:${outcome.id}`, answer: true }];
	});
}

/** Commands that can be said at a step while the run is running. */
function commandsAt(step: Step): Word[] {
	return COMMANDS.filter(({ id, states }) => {
		if (!states.includes('running')) return false;
		if (id === 'digits') return step.readings.length > 0;
		if (id === 'confirm') return step.hazard?.confirm === true;
		return id !== 'skip' || step.optional !== undefined;
	}).flatMap(({ id, said }) => (said['en'] ?? []).map((text) => ({ text, owner: `${id}:${id === 'digits' ? text : ''}`, answer: false })));
}
