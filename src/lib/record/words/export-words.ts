import type { Signs } from '$lib/metrology/axes';

/** Words of the exports: handed in, so that a lab may have them in its own language. `{name}` is filled in. */
export interface ExportWords {
	readonly recordOf: string;
	readonly invented: string;
	readonly brokenAt: string;
	readonly fields: {
		readonly procedure: string;
		readonly edition: string;
		readonly run: string;
		readonly person: string;
		readonly supervisor: string;
		readonly sample: string;
		readonly project: string;
		readonly began: string;
		readonly ended: string;
		readonly lastEvent: string;
		readonly state: string;
		readonly booking: string;
		readonly time: string;
		readonly clock: string;
		readonly device: string;
		readonly record: string;
		readonly instrument: string;
	};
	readonly states: Readonly<Record<'idle' | 'running' | 'paused' | 'held' | 'complete' | 'aborted', string>>;
	readonly sections: { readonly stages: string; readonly readings: string; readonly troubles: string; readonly notes: string; readonly steps: string; readonly changes: string; readonly cautions: string };
	readonly columns: {
		readonly stage: string;
		readonly planned: string;
		readonly actual: string;
		readonly paused: string;
		readonly held: string;
		readonly notMeasured: string;
		readonly began: string;
		readonly ended: string;
		readonly time: string;
		readonly step: string;
		readonly reading: string;
		readonly value: string;
		readonly unit: string;
		readonly uncertainty: string;
		readonly remark: string;
		readonly trouble: string;
		readonly way: string;
		readonly what: string;
		readonly outcome: string;
		readonly total: string;
	};
	readonly none: string;
	readonly leftOut: string;
	readonly leftOutBecause: string;
	readonly notReached: string;
	readonly takenBack: string;
	readonly open: string;
	readonly round: string;
	readonly safeEnd: string;
	readonly backTo: string;
	readonly doneEarlier: string;
	readonly corrected: string;
	readonly spokenNote: string;
	readonly photograph: string;
	readonly file: string;
	readonly offset: string;
	readonly eventsAndHead: string;
	readonly notUnderstood: string;
	readonly penTaken: string;
	readonly bookingMoved: string;
	readonly statedParts: string;
	readonly underName: string;
	readonly instrument: Readonly<Record<'columnAngle' | 'signs' | 'noSigns' | 'viewHalf' | 'limit' | 'beamShift' | 'place' | 'changed', string>> & { readonly axes: Readonly<Record<keyof Signs, string>> };
	readonly calendar: { readonly planned: string };
	readonly notebook: Readonly<Record<'note' | 'stages' | 'readings' | 'steps' | 'timeline' | 'minutes', string>>;
	readonly paper: Readonly<Record<'page' | 'head' | 'signed' | 'countersigned' | 'unsigned' | 'open' | 'altered' | 'railOf', string>>;
	readonly cautions: readonly string[];
}

/** Fills `{name}` in a sentence. */
export const fill = (sentence: string, values: Readonly<Record<string, string | number>>): string =>
	sentence.replace(/\{(\w+)\}/g, (whole, name: string) => (name in values ? String(values[name]) : whole));
