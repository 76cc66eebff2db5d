import { always, type Edition } from '$lib/procedure/edition';
import type { RunState } from './state';

const noEdition: Edition = {
	format: 1,
	id: '',
	version: '',
	languages: ['en'],
	title: { en: '' },
	summary: { en: '' },
	parts: [],
	settings: [],
	stages: [],
	steps: {},
	invariants: [],
	troubles: [],
	ends: { complete: always, safe: always },
	first: ''
};

/** The state before the genesis. */
export const emptyState: RunState = {
	status: 'idle',
	run: '',
	seq: -1,
	edition: noEdition,
	editionHash: '',
	settings: {},
	parts: {},
	known: {},
	step: '',
	entered: null,
	due: null,
	returning: null,
	calling: null,
	frames: null,
	ending: false,
	endingWhy: null,
	readings: {},
	rounds: [],
	confirmedHazard: false,
	visits: {},
	hands: 'off',
	handsSaid: null,
	booking: null,
	person: '',
	supervisor: null,
	sample: '',
	project: '',
	pen: { device: '', givenTo: null },
	held: null,
	statedSeq: -1,
	movedSeq: -1,
	clockOffsetMs: 0,
	undo: null,
	foreign: {},
	contradictions: null,
	closed: false
};
