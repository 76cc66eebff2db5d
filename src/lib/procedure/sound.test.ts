import { describe, expect, it } from 'vitest';
import { COMMANDS } from '$lib/run/commands';
import { outcome } from '../../../tests/fixtures/build-edition';
import { smallVisit, withStep } from '../../../tests/fixtures/small-visit';
import { editDistance } from './phoneme-distance';
import { soundOf } from './pronunciation';
import { apart, LIMIT, soundFindings } from './sound';

const withAnswers = (...answers: string[]) =>
	smallVisit({ steps: withStep('lift/look', (step) => ({ ...step, outcomes: answers.map((answer, i) => outcome(answer, {}, i === 0 ? 'return/go' : 'lift/look')) })) });

describe('words said at the same moment', () => {
	it('counts phonemes, not letters', () => {
		expect(editDistance(['k', 'i', 't', 't', 'e', 'n'], ['s', 'i', 't', 't', 'i', 'n', 'g'])).toBe(3); // Levenshtein's usual example
		expect(apart(soundOf('right'), soundOf('write'))).toBe(0);
		expect(apart(soundOf('stop'), soundOf('step'))).toBe(1);
	});

	it('has the limit that the digits just reach', () => {
		const digits = ['zero', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine'].map(soundOf);
		const nearest = Math.min(...digits.flatMap((a, i) => digits.slice(i + 1).map((b) => apart(a, b))));
		expect(nearest).toBe(LIMIT);
	});

	it('finds two answers that sound alike, and an answer that sounds like a command', () => {
		expect(soundFindings(withAnswers('bare', 'bear')).map(({ kind, distance }) => [kind, distance])).toEqual([['alike', 0]]);
		expect(soundFindings(withAnswers('good', 'text'))[0]?.words).toEqual(['text', 'next']);
		expect(soundFindings(withAnswers('good', 'again'))).toEqual([]);
	});

	it('compares with the digits only where a number is asked', () => {
		const asked = withAnswers('fine', 'fore');
		const reading = { id: 'r', name: { en: 'r' }, unit: 'mm', min: 0, max: 1, plausible: [0, 1] as const, decimals: 0 };
		const step = asked.steps['lift/look'];
		expect(soundFindings(asked)).toEqual([]);
		expect(soundFindings({ ...asked, steps: { ...asked.steps, ...(step && { 'lift/look': { ...step, readings: [reading] } }) } }).map(({ words }) => words)).toEqual([
			['fine', 'five'],
			['fine', 'nine'],
			['fore', 'four']
		]);
	});

	it('tells a word that the dictionary lacks, once', () => {
		expect(soundFindings(withAnswers('good', 'redepositxq')).map(({ kind }) => kind)).toEqual(['unknown']);
	});

	it('holds for the commands themselves, in each state of a run', () => {
		const said = COMMANDS.flatMap(({ id, said, states }) => (said['en'] ?? []).map((text) => ({ text, id, states })));
		const near = said.flatMap((a, i) => said.slice(i + 1).filter((b) => a.states.some((state) => b.states.includes(state)) && apart(soundOf(a.text), soundOf(b.text)) < LIMIT).map((b) => `${a.text} / ${b.text}`));
		expect(near).toEqual([]);
	});
});
