import { describe, expect, it } from 'vitest';
import { found, isEmpty, type RunQuery, searchText } from '$lib/record/run-search';
import { everyKind, eventful, journalOf } from './journals';

const text = searchText(everyKind());
const query = (words: string, more: Partial<RunQuery> = {}): RunQuery => ({ words, from: '', to: '', ...more });

describe('X20 the history is searched', () => {
	it.each([
		['person', 'robin'], ['procedure', 'invented visit'], ['sample', 'S-2'], ['project', 'p-1'], ['part and what was said of it', 'lock pumped'], ['word in a note', 'rough'],
		['correction', 'loud misheard'], ['trouble', 'power'], ['reason for leaving out', 'no spare'], ['value of a reading', '10.5'], ['device', 'other tablet'], ['run', '00000001']
	])('by %s', (_, words) => expect(found(text, query(words))).not.toBeNull());
	it('tells the line in which it was found', () => expect(found(text, query('ROUGH'))!.where).toContain('Pump sounds “rough”'));
	it('letters’ case and marks do not matter; all words must be there', () => {
		const other = searchText(journalOf(eventful()));
		expect(found(other, query('DRIFT 漢字'))).not.toBeNull();
		expect(found(text, query('rough nowhere'))).toBeNull();
	});
	it('by date, both ends included', () => {
		expect(found(text, query('', { from: '2026-03-02', to: '2026-03-02' }))).not.toBeNull();
		expect(found(text, query('', { from: '2026-03-03' }))).toBeNull();
		expect(found(text, query('', { to: '2026-03-01' }))).toBeNull();
	});
	it('an empty query is known as such', () => expect([isEmpty(query(' ')), isEmpty(query('x')), isEmpty(query('', { to: '2026-01-01' }))]).toEqual([true, false, false]));
});
