import { flushSync } from 'svelte';
import { describe, expect, it } from 'vitest';
import { scriptedEars } from '$lib/adapters/scripted-ears/scripted-ears';
import { reckoningNamed } from '$lib/metrology/registry';
import type { Mouth } from '$lib/ports/mouth';
import { createDesk } from './reckoning-desk.svelte';
import { createSpokenReading } from './spoken-reading.svelte';

const mouth: Mouth = { canSpeak: () => true, speak: () => Promise.resolve(), sound: () => {}, silence: () => {}, sounding: false };

async function bench(name: string) {
	const desk = createDesk(reckoningNamed(name)!, () => ({}));
	const ears = scriptedEars();
	const spokenAloud: string[] = [];
	const spoken = createSpokenReading(desk, { ears: () => ears, mouth, enrolment: () => Promise.resolve(undefined), speak: (text) => void spokenAloud.push(text) });
	await spoken.hear();
	const say = (words: string): boolean[] =>
		words.split(', ').map((word) => {
			const heard = ears.say(word);
			flushSync();
			return heard;
		});
	const text = (field: string) => desk.fields.find((each) => each.name === field)?.text;
	return { desk, spoken, say, text, spokenAloud };
}

describe('SR readings of a sum by voice', () => {
	it('SR1 gives nothing before it was echoed and confirmed; then the next open field is asked for', async () => {
		const { desk, spoken, say, text, spokenAloud } = await bench('half-difference');
		say('one, two, point, five');
		expect([spoken.entry.text, text('gapLeft')]).toEqual(['12.5', '']);
		say('send it');
		expect(spoken.echo).toBe('left gap: 12.5 µm. Right?');
		expect(spokenAloud).toEqual([spoken.echo]);
		expect(text('gapLeft')).toBe('');
		say('yes');
		expect([text('gapLeft'), desk.active, spoken.echo, spoken.entry.text]).toEqual(['12.5', 'gapRight', null, '']);
	});
	it('SR2 a no takes it away, and while it is asked no digit is taken', async () => {
		const { spoken, say, text } = await bench('half-difference');
		say('eight, send it');
		expect(say('nine')).toEqual([false]);
		say('no');
		expect([spoken.echo, spoken.entry.text, text('gapLeft')]).toEqual([null, '', '']);
	});
	it('SR3 corrects a digit, knows no minus where there is none, and sends no number that is none', async () => {
		const { spoken, say } = await bench('half-difference');
		say('minus, seven, one, correct');
		expect(spoken.entry.text).toBe('7');
		say('correct, point, send it');
		expect(spoken.echo).toBeNull();
	});
	it('SR4 takes a minus where values below 0 exist, and stays with the field it was begun for', async () => {
		const { desk, say, text } = await bench('height-from-ion-shift');
		say('minus, three');
		desk.activate('columnAngle');
		say('zero, send it, yes');
		expect([text('shift'), text('columnAngle')]).toEqual(['-30', '']);
	});
	it('SR5 hears nothing once it is closed', async () => {
		const { spoken, say } = await bench('half-difference');
		spoken.close();
		expect(say('one')).toEqual([false]);
		expect(spoken.listening.listening).toBe(false);
	});
});
