import { describe, expect, it } from 'vitest';
import { compileProcedure } from './compile';
import { faultLine } from './fault';

/** One fault a case: the line that is put into a sound procedure, and what is said of it. */
const sound = `procedure: small
version: 1.0.0
title: Small
summary: Small.
parts:
  probe: { conditions: [out, in] }
stages:
  - stage: Work
    steps:
      - do: First.
      - check: Look.
        answers: { good: next, bad: repeat "First" }
      - do: Last.
troubles:
  slip:
    title: It slips
    steps:
      - do: Hold it.
        then: back
ends: { complete: probe out, safe: always }
`;
const told = (text: string): string[] => {
	const made = compileProcedure(text, 'f.yaml');
	return 'faults' in made ? made.faults.map(faultLine) : [];
};

describe('faults', () => {
	it('are none in a sound procedure', () => expect(told(sound)).toEqual([]));

	it.each([
		['- do: First.', '- dp: First.', /^f\.yaml:10:9: "dp" is not known here; did you mean "do"\?$/],
		['- do: First.', '- { do: First., check: First. }', /^f\.yaml:10:9: the step says do and check; expected exactly one of/],
		['- do: Last.', '- wait: Last.', /^f\.yaml:13:9: the wait says no time; expected e\.g\. "for: 2 min"$/],
		['repeat "First"', 'repeat "Frist"', /^f\.yaml:12:37: no step is called "Frist"; did you mean "first"\?$/],
		['repeat "First"', 'repeat "Last"', /"Last" comes later; expected go to "Last"/],
		['repeat "First"', 'onwards', /"onwards" is no way on; expected next,/],
		['repeat "First"', 'back', /"back" stands outside a trouble/],
		['repeat "First"', 'trouble slop', /no trouble is called "slop"; did you mean "slip"\?/],
		['repeat "First"', 'go to "Hold it"', /"Hold it" is a step of a trouble; expected trouble slip/],
		['complete: probe out', 'complete: prob out', /^f\.yaml:20:19: "prob out" names no part; expected a part and its condition; did you mean "probe"\?$/],
		['complete: probe out', 'complete: probe oot', /"oot" is no condition of probe; did you mean "out"\?/],
		['complete: probe out', 'complete: probe out probe in', /"probe in" is left over; expected a comma/],
		['        then: back', '        sets: probe in / out\n        then: back', /is not what a step can set/],
		['        then: back', '        plan: 5 min', /ends without a way back; expected back,/],
		['        then: back', '        then: go to "First"', /outside this trouble; expected back to "First"/],
		['version: 1.0.0', 'version: 1', /^f\.yaml:2:10: 1 stands here; expected a text/],
		['version: 1.0.0', 'version: "1"', /"1" stands here; expected a version such as "1\.0\.0"/],
		['title: Small\n', '', /"title" is missing; expected/],
		['- do: Last.', '- do: First.', /the path "work\/first" is taken by an earlier step/],
		['- do: Last.', '- use: frag', /no fragment is called "frag"/],
		['- do: Last.', '- do: Look at <n>.', /"<n>" has no value here/],
		['- do: Last.', '- reading: Last.', /the reading step asks for no number/],
		['- do: Last.', '- { do: Last., rounds: 3 }', /"rounds" stands in a do step; expected it only in an adjust step/],
		['- do: Last.', '- { do: Last., hazard: { notice: A., warning: B., avoid: C. } }', /the hazard has 2 signal words; expected exactly one/],
		['answers: { good: next', 'answers: { good: next, good: next', /^f\.yaml:12:32: "good" stands twice in the same map; expected each key once$/],
		['- do: First.', '- { do: First., only if: probe in }', /the first step has "only if"/],
		['stage: Work', 'stage: Work\n    optional: { if left out: probe out, go: go to "Nowhere" }', /no step is called "Nowhere"/]
	])('tell of "%s" → "%s"', (good, bad, sentence) => {
		expect(sound).toContain(good);
		const lines = told(sound.replace(good, bad));
		expect(lines).toHaveLength(1);
		expect(lines[0]).toMatch(sentence);
	});

	it('are all told in one pass, in the order of the text, of the schema and of the sense alike', () => {
		const lines = told(sound.replace('version: 1.0.0', 'version: x').replace('- do: First.', '- do: First.\n        neds: probe out').replace('repeat "First"', 'nowhere').replace('safe: always', 'safe: beam off'));
		expect(lines.map((line) => line.split(': ')[0])).toEqual(['f.yaml:2:10', 'f.yaml:11:9', 'f.yaml:13:37', 'f.yaml:21:36']);
	});
	it('of a piece taken out do not draw others after them', () => {
		const lines = told(sound.replace('- do: First.', '- { do: First., plan: soon, wrong: 1 }'));
		expect(lines).toHaveLength(2);
	});
	it('in an included file are told with its name', () => {
		const made = compileProcedure(sound.replace('parts:', 'include: [lib.yaml]\nparts:'), 'f.yaml', () => 'library: lib\nparts:\n  lock: { conditions: [] }\n');
		expect('faults' in made && made.faults.map(faultLine)).toEqual(['lib.yaml:3:23: a list stands here; expected at least 1 entries']);
	});
});
