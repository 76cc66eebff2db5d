import type { ExportWords } from './export-words';

/** The cautions are those of the message library (a test compares them). */
export const english: ExportWords = {
	recordOf: 'Record: {title}',
	invented: 'Demonstration: the people, the instrument and the sample are invented.',
	brokenAt: 'The record is broken at event {seq}: {reason}. Only what stands before it is shown.',
	fields: {
		procedure: 'Procedure', edition: 'Edition', run: 'Run', person: 'Operator', supervisor: 'Supervised by', sample: 'Sample', project: 'Project',
		began: 'Began', ended: 'Ended', lastEvent: 'Last event', state: 'State', booking: 'Booking', time: 'Time', clock: 'Instrument’s clock', device: 'Device', record: 'Record', instrument: 'Instrument'
	},
	states: { idle: 'not begun', running: 'running', paused: 'paused', held: 'held', complete: 'complete', aborted: 'ended early' },
	sections: { stages: 'Stages', readings: 'Readings', troubles: 'Troubles', notes: 'Notes and files', steps: 'Steps', changes: 'Corrections and statements', cautions: 'Cautions' },
	columns: {
		stage: 'Stage', planned: 'Planned', actual: 'Actual', paused: 'Paused', held: 'Held', notMeasured: 'Not measured', began: 'Began', ended: 'Ended', time: 'Time', step: 'Step',
		reading: 'Reading', value: 'Value', unit: 'Unit', uncertainty: '±', remark: 'Remark', trouble: 'Trouble', way: 'Way back', what: 'What', outcome: 'Outcome', total: 'All'
	},
	none: 'None.',
	leftOut: 'left out',
	leftOutBecause: 'left out: {reason}',
	notReached: 'not reached',
	takenBack: 'taken back',
	open: 'still open',
	round: 'round {round}',
	safeEnd: 'to the safe end',
	backTo: 'back to “{step}” at {time}',
	doneEarlier: '“{step}” was done earlier, at {time} as stated: {words}',
	corrected: 'Event {event}, {field}: “{was}” corrected to “{is}”. {why}',
	spokenNote: 'spoken note',
	photograph: 'photograph',
	file: 'file',
	offset: '{offset} against the device',
	eventsAndHead: '{count} events, head {head}',
	notUnderstood: '“{kind}” is not understood by this version',
	penTaken: 'The pen went from {from} to {to}',
	bookingMoved: 'The booking’s end was moved from {was} to {end}',
	statedParts: 'Stated: {parts}. {why}',
	underName: 'under {name}',
	instrument: {
		columnAngle: 'column angle {angle}', signs: 'signs {signs}', noSigns: 'no sign tried', viewHalf: 'half the view {length}', limit: 'largest move {length}',
		beamShift: 'beam shift to {length}', place: 'a stored place may move {length}', changed: 'From here on the guide goes by: {what}',
		axes: {
			stageX: 'stage X', stageY: 'stage Y', stageZ: 'stage Z', stageZRaises: 'stage Z, side camera', stageTilt: 'stage tilt',
			probeX: 'probe X', probeY: 'probe Y', probeZ: 'probe Z', beamShiftX: 'beam shift X', beamShiftY: 'beam shift Y'
		}
	},
	calendar: { planned: '{stage} (planned)' },
	notebook: {
		note: 'Every cell runs with Python’s standard library alone; pandas and matplotlib are used where they are installed.',
		stages: 'Stages', readings: 'Readings', steps: 'Steps', timeline: 'Timeline', minutes: 'minutes since the run began'
	},
	paper: { page: 'Page {page} of {pages}', head: 'SHA-256 of the last event {head}', signed: 'Closed and signed; key {key}.', unsigned: 'Closed, not signed.', countersigned: 'Countersigned by {name} up to event {seq}; key {key}.', open: 'Not closed: the run goes on, or its end was never signed off.', altered: 'Altered: see the fault above.', railOf: 'The visit on the scale of time' },
	cautions: [
		'Handrail is no interlock and no emergency stop. The instrument’s own stop and interlocks come first. The word “stop” only stops the guide.',
		'Local rules, the instrument’s manual and trained staff prevail over what is written here.',
		'High voltage, X-rays, toxic gases, heated sources and anything behind covers are for trained or licensed people.'
	]
};
