/** Invented data: no such visit took place; nobody of this name exists. */
import type { RailModel, Spread } from '$lib/components/rail/model';
import type { CommandView, EarsView, HazardView, PartView, StepView, TimesView } from '$lib/components/walk/view';

const min = (minutes: number) => minutes * 60_000;
const spread = (p10: number, p50: number, p90: number): Spread => ({ p10Ms: min(p10), p50Ms: min(p50), p90Ms: min(p90) });

export const rail: RailModel = {
	nowMs: min(66),
	live: true,
	bookingEndMs: min(240),
	ends: spread(188, 206, 224),
	fits: 0.95,
	latestStarts: [{ stage: 'return', name: 'Return', atMs: min(208) }],
	pauses: [{ fromMs: min(40), toMs: min(46) }],
	gaps: [{ fromMs: min(20), toMs: min(23) }],
	stages: [
		{ id: 'load', name: 'Load', short: 'Load', state: 'walked', startMs: 0, endMs: min(32), plannedMs: min(30) },
		{ id: 'transfer', name: 'Transfer', short: 'Transfer', state: 'walked', startMs: min(32), endMs: min(48), plannedMs: min(12) },
		{ id: 'pick', name: 'Pick up a tip', short: 'Pick up', state: 'running', startMs: min(48), ends: spread(76, 80, 88), plannedMs: min(30) },
		{ id: 'check', name: 'Check the grid', short: 'Grid', state: 'to come', begins: spread(76, 80, 88), ends: spread(84, 88, 98), plannedMs: min(8) },
		{ id: 'lift', name: 'Lift out', short: 'Lift out', state: 'to come', begins: spread(84, 88, 98), ends: spread(160, 176, 196), plannedMs: min(85) },
		{ id: 'return', name: 'Return the tip', short: 'Return', state: 'to come', begins: spread(160, 176, 196), ends: spread(174, 190, 210), plannedMs: min(12) },
		{ id: 'unload', name: 'Unload', short: 'Unload', state: 'to come', begins: spread(174, 190, 210), ends: spread(188, 206, 224), plannedMs: min(15) }
	]
};
const late = (by: number): RailModel => ({
	...rail,
	nowMs: min(150),
	stages: rail.stages.map((stage, i) =>
		i < 4
			? { ...stage, state: 'walked', startMs: min([0, 32, 48, 90][i] as number), endMs: min([32, 48, 90, 104][i] as number) }
			: i === 4
				? { ...stage, state: 'running', startMs: min(104), ends: spread(200, 215, 240) }
				: { ...stage, begins: spread(200 + 14 * (i - 4), 215 + 14 * (i - 4), 240 + 14 * (i - 4)), ends: spread(214 + 14 * (i - 5), 229 + 14 * (i - 5) + by, 256 + 14 * (i - 5)) }
	),
	ends: spread(228, 244, 272),
	fits: 0.4
});
export const rails: readonly { readonly id: string; readonly model: RailModel }[] = [
	{ id: 'on the way', model: rail },
	{
		id: 'just begun',
		model: {
			...rail,
			nowMs: 0,
			pauses: [],
			gaps: [],
			stages: rail.stages.map((stage, i) => {
				const begins = [0, 30, 42, 72, 80, 165, 177][i] as number;
				const ends = [30, 42, 72, 80, 165, 177, 192][i] as number;
				const around = (at: number) => spread(at * 0.86, at, at * 1.2);
				return { id: stage.id, name: stage.name, short: stage.short, plannedMs: stage.plannedMs, state: i === 0 ? 'running' : 'to come', ...(i === 0 ? { startMs: 0 } : {}), begins: around(begins), ends: around(ends) } as const;
			}),
			ends: spread(165, 192, 230),
			fits: 0.93
		}
	},
	{ id: 'will hardly fit', model: late(0) },
	{
		id: 'over',
		model: {
			...rail,
			live: false,
			nowMs: min(212),
			ends: null,
			fits: null,
			latestStarts: [],
			stages: rail.stages.map((stage, i) => ({
				id: stage.id,
				name: stage.name,
				short: stage.short,
				plannedMs: stage.plannedMs,
				state: 'walked' as const,
				startMs: min([0, 32, 48, 82, 92, 184, 196][i] as number),
				endMs: min([32, 48, 82, 92, 184, 196, 212][i] as number)
			}))
		}
	},
	{ id: 'no booking', model: { ...rail, bookingEndMs: null, fits: null, latestStarts: [] } }
];
/** Begun at 13:00. */
export const clock = (sinceBeginMs: number): string => {
	const minutes = Math.round(sinceBeginMs / 60_000) + 13 * 60;
	return `${Math.floor(minutes / 60) % 24}:${String(minutes % 60).padStart(2, '0')}`;
};

export const steps: Readonly<Record<string, StepView>> = {
	do: { kind: 'do', text: 'Insert the probe.', look: 'The side camera shows it coming in above the slot.' },
	check: {
		kind: 'check',
		text: 'Is the taper centred in the ion view?',
		look: 'The cross lines meet on the end of the taper.',
		answers: [
			{ id: 'centred', answer: 'Centred', key: '1' },
			{ id: 'off', answer: 'Off centre', key: '2' }
		]
	},
	reading: {
		kind: 'reading',
		text: 'Measure the gap on both sides of the shank.',
		look: '',
		readings: [
			{ id: 'left', name: 'left gap', unit: 'nm', text: '348', state: 'taken' },
			{ id: 'right', name: 'right gap', unit: 'nm', text: '12', state: 'asked' }
		]
	},
	echo: {
		kind: 'reading',
		text: 'Measure the gap on both sides of the shank.',
		look: '',
		readings: [
			{ id: 'left', name: 'left gap', unit: 'nm', text: '348', state: 'taken' },
			{ id: 'right', name: 'right gap', unit: 'nm', text: '12', state: 'echoed', odd: 'That is unusual: 50 to 5000 nm is expected.' }
		]
	},
	choose: {
		kind: 'choose',
		text: 'Choose the slot to take the tip from.',
		look: 'Slots that the chamber can show come first.',
		answers: [
			{ id: '1', answer: 'Slot 1', key: '1' },
			{ id: '2', answer: 'Slot 2', key: '2' },
			{ id: '3', answer: 'Slot 3', key: '3', not: 'is empty' },
			{ id: '4', answer: 'Slot 4', key: '4' }
		]
	},
	wait: { kind: 'wait', text: 'Wait until the load lock has pumped down.', look: 'The pressure falls steadily.', forMs: 120_000, leftMs: 74_000 },
	over: { kind: 'wait', text: 'Wait until the load lock has pumped down.', look: 'The pressure falls steadily.', forMs: 120_000, leftMs: -21_000 },
	adjust: {
		kind: 'adjust',
		text: 'Make both gaps equal.',
		look: '',
		round: 2,
		rounds: 4,
		tolerance: { value: '100', unit: 'nm' },
		move: { words: ['Probe X left 182 nm, then look again.', '182 nm off; 100 nm allowed.'], shares: [4.1, 1.82] },
		readings: [
			{ id: 'left', name: 'left gap', unit: 'nm', text: '', state: 'asked' },
			{ id: 'right', name: 'right gap', unit: 'nm', text: '', state: 'open' }
		]
	},
	long: {
		kind: 'do',
		text: 'Carry the loaded carrier by its handle to the holder, seat it against both stops, and clamp it without touching grid or tips.',
		look: 'Nothing moves when the holder is tapped gently. The carrier lies flat on both rails.'
	}
};

export const hazards: readonly HazardView[] = [
	{ signal: 'danger', what: 'High voltage will kill.', avoid: 'Covers are for service staff only.' },
	{ signal: 'warning', what: 'Precursor gas can poison.', avoid: 'The source is opened under vacuum only.' },
	{ signal: 'caution', what: 'Tip and tweezers prick through gloves.', avoid: 'Fingers stay away from the needle.' },
	{ signal: 'notice', what: 'Jaws closing off centre bend the shank.', avoid: 'Both gaps are equal first.' }
];

export const parts: readonly PartView[] = [
	{ id: 'probe', name: 'probe', is: 'in', matters: true, dangerous: true },
	{ id: 'gas', name: 'gas needle', is: 'out' },
	{ id: 'stage', name: 'stage', is: 'at slot 2', matters: true },
	{ id: 'tip', name: 'tip on probe', is: 'none', matters: true },
	{ id: 's1', name: 'slot 1', is: 'spare tip' },
	{ id: 's2', name: 'slot 2', is: 'its tip' },
	{ id: 'beams', name: 'beams', is: 'on' },
	{ id: 'lamella', name: 'lamella', is: 'in the sample', unknown: true }
];

export const times: TimesView = { step: 9, of: 17, inStepMs: 42_000, stageLeftMs: min(14), visitLeftMs: min(140), fits: 0.95, bookingLeftMs: min(170) };
export const ears: EarsView = { listening: true, canSay: ['a number', 'say again', 'time left', 'trouble'], heard: { words: 'one two', sure: true }, level: 0.7 };
export const beside: readonly CommandView[] = [
	{ id: 'back', label: 'Step back' },
	{ id: 'pause', label: 'Pause' },
	{ id: 'trouble', label: 'Trouble' }
];
export const more: readonly CommandView[] = [
	{ id: 'again', label: 'Say it again', said: 'say again', key: 'A' },
	{ id: 'where', label: 'Where am I?', said: 'where am I', key: 'W' },
	{ id: 'time', label: 'Time left', said: 'time left', key: 'T' },
	{ id: 'stop', label: 'Stop the guide', said: 'stop', key: 'S' },
	{ id: 'note', label: 'Make a note', said: 'make a note', key: 'M' },
	{ id: 'photo', label: 'Take a picture', said: 'take a picture', key: 'F', not: 'This device has no camera.' },
	{ id: 'skip', label: 'Skip this step', said: 'skip this step', key: 'K', not: 'This step can’t be skipped.' },
	{ id: 'late', label: 'Done earlier', said: 'done earlier', key: 'L' },
	{ id: 'hands', label: 'Gloves clean', said: 'gloves clean', key: 'G' },
	{ id: 'booking', label: 'Move the booking’s end', said: 'booking ends at', key: 'B' },
	{ id: 'endVisit', label: 'End the visit', said: 'end the visit', key: 'V' }
];
