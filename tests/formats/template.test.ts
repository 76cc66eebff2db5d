import { describe, expect, it } from 'vitest';
import { FIRST_TEMPLATE, renderTemplate, TEMPLATE_FIELDS, TemplateFault } from '$lib/record/template';
import { eventful, everyKind, journalOf, journals } from './journals';

const journal = everyKind();

describe('X18 a lab’s own template', () => {
	it.each(journals())('the first one renders every run: %s', async (_, one) => {
		const text = await renderTemplate(FIRST_TEMPLATE, one);
		expect(text).toMatch(/^# 2026-03-02 /);
		expect(await renderTemplate(FIRST_TEMPLATE, one)).toBe(text);
	});
	it('all named fields exist, and no other does', async () => {
		for (const field of TEMPLATE_FIELDS) await renderTemplate(`{{ ${field} }}`, journal);
		await expect(renderTemplate('{{ nothing_of_that_name }}', journal)).rejects.toThrow(/undefined variable: nothing_of_that_name.*line:1, col:4/);
	});
	it('fields of its own around values of the run', async () =>
		expect(await renderTemplate('Room 12; {{ sample | raw }}; {{ readings | size }} readings; {{ readings[0].value }} {{ readings[0].unit | raw }}', journal)).toBe('Room 12; S-2 (invented); 6 readings; 10.5 µm'));
	it('words of people stay words: no note becomes a heading, a link or HTML', async () => {
		const text = await renderTemplate('{% for note in notes %}{{ note.text }}{% endfor %}', journalOf(eventful()));
		expect(text).not.toMatch(/(^|[^\\])[*<]/);
		expect(text.split('\n')).toHaveLength(1);
	});
});

describe('X19 a template is kept in its box', () => {
	it.each([
		['a file', '{% include "/etc/passwd" %}'],
		['a file above', '{% render "../../package.json" %}'],
		['a layout', '{% layout "x" %}'],
		['inherited properties', '{{ run.constructor }}'],
		['prototypes', '{{ stages.__proto__ }}'],
		['an unknown filter', '{{ run | shell }}'],
		['an unknown tag', '{% script %}'],
		['an open tag', '{% if run %}'],
		['an open value', '{{ run'],
		['endless work', '{% for a in (1..100000) %}{% for b in (1..100000) %}{{ a }}{% endfor %}{% endfor %}'],
		['endless memory', '{% assign x = "aaaaaaaaaa" %}{% for a in (1..60) %}{% assign x = x | append: x %}{% endfor %}{{ x }}'],
		['too long a text', 'x'.repeat(100_001)]
	])('%s: refused in a sentence', async (_, template) => {
		const thrown: unknown = await renderTemplate(template, journal).catch((fault: unknown) => fault);
		expect(thrown).toBeInstanceOf(TemplateFault);
		expect((thrown as Error).message.length).toBeLessThan(300);
	}, 20_000);
});
