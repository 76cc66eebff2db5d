import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { compileProcedure } from './compile';
import { faultLine } from './fault';

const language = readFileSync(new URL('../../../tests/behaviour/procedure-language.md', import.meta.url), 'utf8');
const example = (/```yaml\n([\s\S]*?)```/.exec(language)?.[1] ?? '').replace(/^include:.*\n/m, '');

describe('the example of the language reference', () => {
	it('compiles', () => {
		const made = compileProcedure(example, 'example.yaml');
		expect('faults' in made ? made.faults.map(faultLine) : []).toEqual([]);
		if ('faults' in made) return;
		expect(Object.keys(made.edition.steps)).toMatchInlineSnapshot(`
			[
			  "pick-up/stage-to-slot",
			  "pick-up/centre-the-taper-with-stage-z",
			  "pick-up/is-the-taper-centred-in-the-ion-view",
			  "pick-up/insert-the-probe",
			  "pick-up/retract-the-probe",
			  "trouble:not-found/does-the-taper-show-at-low-magnification",
			]
		`);
		expect(made.edition.steps['pick-up/centre-the-taper-with-stage-z']?.outcomes).toMatchInlineSnapshot(`
			[
			  {
			    "answer": {
			      "en": "within",
			    },
			    "go": [
			      {
			        "to": {
			          "step": "pick-up/is-the-taper-centred-in-the-ion-view",
			        },
			      },
			    ],
			    "id": "within",
			    "set": [],
			    "when": "within",
			  },
			  {
			    "answer": {
			      "en": "beyond",
			    },
			    "go": [
			      {
			        "to": {
			          "trouble": "not-found",
			        },
			      },
			    ],
			    "id": "beyond",
			    "set": [],
			    "when": "beyond",
			  },
			]
		`);
	});
});
