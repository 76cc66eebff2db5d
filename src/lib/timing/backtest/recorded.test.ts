import { describe, expect, it } from 'vitest';
import { queriesOf } from './query';
import { readRecordedCsv } from './recorded-csv';
import { recordedRuns } from './recorded-run';

const HEADER = 'dataset,run_id,operator_id,procedure,step_index,step_name,start_s,end_s\n';
const read = (lines: string) => readRecordedCsv(HEADER + lines);

describe('reading recorded runs', () => {
	it('takes quoted cells with commas, doubled quotes and line ends, and counts lines of the file', () => {
		const { rows, bad } = read('d,1,A,P,1,"cut, ""thin""\nslices",2.5,4\r\nd,1,A,P,2,b,5,x\n');
		expect(rows).toEqual([
			{ line: 2, runId: '1', operator: 'A', procedure: 'P', stepName: 'cut, "thin"\nslices', startS: 2.5, endS: 4 }
		]);
		expect(bad).toEqual([{ line: 4, reason: 'end_s: expected seconds as a number, got "x"' }]);
	});

	it.each([
		['d,1,A,P,1,a,0\n', 2, 'expected 8 cells, got 7'],
		['d,1,A,P,1,a,5,4\n', 2, 'end_s: expected at least start_s 5, got 4'],
		['d,1,A,P,1,a,-1,4\n', 2, 'start_s: expected at least 0, got -1'],
		['d,1,,P,1,a,0,4\n', 2, 'operator_id: expected a value, got nothing'],
		[
			'd,1,A,P,1,a,0,4\nd,1,B,P,2,b,5,6\n',
			3,
			'run "1": expected operator "A" with procedure "P" as in its rows above, got operator "B" with procedure "P"'
		],
		['d,1,A,P,1,"a,0,4\n', 2, 'expected a closing quote before the end of the file'],
		['d,1,A,P,1,a,0,1e999\n', 2, 'end_s: expected a finite number, got 1e999'],
		['d,1,A,P,1,a,NaN,4\n', 2, 'start_s: expected seconds as a number, got "NaN"']
	])('tells the bad row %j at its line', (lines, line, reason) => {
		expect(read(lines).bad).toEqual([{ line, reason }]);
	});

	it('tells which columns are missing', () => {
		expect(readRecordedCsv('run_id,start_s\n').bad[0]!.reason).toContain(
			'missing: operator_id, procedure, step_name, end_s'
		);
	});
});

describe('runs and queries', () => {
	const [run] = recordedRuns(read('d,1,A,P,9,b,50,130\nd,1,A,P,1,a,10,20\nd,1,A,P,2,a,10,45\n').rows);

	it('sorts by start then end, lets a step last to the next start, at least half a second, the last to the latest end', () => {
		expect(run!.steps.map(({ key, beginS, durationS }) => [key, beginS, durationS])).toEqual([
			['a', 0, 0.5],
			['a #2', 0.5, 40],
			['b', 40.5, 80]
		]);
		expect(run!.totalS).toBe(120.5);
	});

	it('asks at each step start and every 30 s inside it, the end excluded, telling nothing of the future', () => {
		const asked = queriesOf(run!, 30);
		expect(asked.map((query) => query.elapsedS)).toEqual([0, 0.5, 30.5, 40.5, 70.5, 100.5]);
		expect(asked.map((query) => query.leftS)).toEqual([120.5, 120, 90, 80, 50, 20]);
		expect(asked[2]).toMatchObject({ inStepS: 30, running: { key: 'a #2', name: 'a', visit: 2 } });
		expect(asked[2]!.done.map((step) => step.key)).toEqual(['a']);
		expect(Object.keys(asked[2]!.running).sort()).toEqual(['key', 'name', 'visit']);
	});
});
