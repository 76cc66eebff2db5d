/**
 * Measures the recogniser, streaming, on speakers that its heads never saw: each recording once, by the head of the other four folds,
 * weighed with weights of the other four folds. Usage: npm run bench:voice (after npm run voice:train)
 */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Weighing } from '$lib/voice/decoder';
import { readPosteriors, type Posteriors } from './bench/cache';
import { decisionsOf, spikesOf, type Decided } from './bench/decide';
import { enrolledFigures } from './bench/enrolled';
import { allSaid, hearAll } from './bench/operator';
import { operatorRows } from './bench/operator-rows';
import { ownWordsFigures } from './bench/own-words';
import { editDistance } from './bench/edit-distance';
import { PLAIN_STEP, QUESTION, READING } from './bench/gates';
import { mostOf, shareOver, type Share } from './bench/interval';
import { whyNoPeer, type PeerRow } from './bench/peer';
import { CONDITIONS, type Condition } from './bench/trials';
import { COMMANDS_RECORDED, fitWeighing } from './bench/weigh';
import { hearWhatIsMissing, SHARDS } from './bench/hear-missing';
import { inParallel, shards } from './parallel';
import { cacheFolder, dataFolder } from './paths';
import { FOLDS } from './recordings';
import { DIGITS } from './vocabulary';
import { eigenvoicesWithout } from './voices/learn';

const at = (...parts: string[]) => join(cacheFolder(), ...parts);

await hearWhatIsMissing();
const all = [...readPosteriors(at('bench')), ...readPosteriors(at('bench-talk'))];
const weighings = Array.from({ length: FOLDS }, (_, fold) => fitWeighing(all.filter((trial) => trial.fold !== fold)));

interface Heard {
	readonly trial: Posteriors;
	readonly told: readonly Decided[];
}
const hear = (trials: readonly Posteriors[], open: readonly string[], change: (w: Weighing) => Weighing = (w) => w): Heard[] =>
	trials.map((trial) => ({ trial, told: decisionsOf(spikesOf(trial, open), change(weighings[trial.fold]!)) }));

/** Rows of the other recogniser, where it is at hand. */
async function peerRows(): Promise<PeerRow[]> {
	const why = whyNoPeer();
	if (why) {
		console.log(`${why}\n`);
		return [];
	}
	await inParallel('bench-peer', shards(SHARDS).filter(([shard]) => !existsSync(at('peer', `${shard}.jsonl`))));
	return shards(SHARDS).flatMap(([shard]) => readFileSync(at('peer', `${shard}.jsonl`), 'utf8').trim().split('\n').map((row) => JSON.parse(row) as PeerRow));
}
const peer = await peerRows();
/** Share of what the other recogniser heard in the trials that `which` picks and in which it is `right`, where it is at hand. */
function byPeer(which: (row: PeerRow) => boolean, right: (row: PeerRow) => boolean): string {
	const rows = peer.filter(which);
	return rows.length > 0 ? percent(shareOver(rows.map((row) => ({ speaker: row.speaker, right: right(row) })))) : '';
}
const peerRight = (row: PeerRow) => row.heard === row.word;

const percent = ({ share, low, high, n, speakers }: Share) =>
	`${(100 * share).toFixed(1)} % (${(100 * low).toFixed(1)}–${(100 * high).toFixed(1)}; n = ${n}, ${speakers} speakers)`;
const line = (name: string, value: string, other = '') => console.log(peer.length > 0 ? `| ${name} | ${value} | ${other} |` : `| ${name} | ${value} |`);

const rightOnce = ({ trial, told }: Heard) => told.length === 1 && told[0]!.word === trial.word;
const words = (source: Posteriors['source'], condition: Condition, said: readonly string[]) =>
	all.filter((t) => t.kind === 'word' && t.source === source && t.condition === condition && said.includes(t.word));

console.log(`| what | measured: share, 95 % interval over speakers |${peer.length > 0 ? ' pocketsphinx, the same files |' : ''}\n|---|---|${peer.length > 0 ? '---|' : ''}`);
for (const condition of CONDITIONS) {
	const heard = hear(words('speech-commands', condition, COMMANDS_RECORDED), QUESTION);
	line(`stop, yes, no; a question open; ${condition}`, percent(shareOver(heard.map((h) => ({ speaker: h.trial.speaker, right: rightOnce(h) })))), byPeer((row) => row.condition === condition && COMMANDS_RECORDED.includes(row.word), peerRight));
}
for (const source of ['speech-commands', 'fsdd'] as const) {
	for (const condition of CONDITIONS) {
		const heard = hear(words(source, condition, DIGITS), READING);
		line(`digits one at a time, ${source}, ${condition}`, percent(shareOver(heard.map((h) => ({ speaker: h.trial.speaker, right: rightOnce(h) })))), byPeer((row) => row.condition === condition && row.source === source && DIGITS.some((word) => word === row.word), peerRight));
	}
}
for (const condition of ['clean', '10 dB'] as const) {
	const heard = hear(all.filter((t) => t.kind === 'string' && t.condition === condition), READING);
	const wrong = heard.reduce((sum, { trial, told }) => sum + editDistance(trial.words, told.map(({ word }) => word)), 0);
	const digits = heard.reduce((sum, { trial }) => sum + trial.words.length, 0);
	line(`strings of 3 to 5 digits, ${condition}: digit errors`, `${((100 * wrong) / digits).toFixed(1)} % (n = ${digits} digits, 3 speakers: no interval)`);
	line(`strings of 3 to 5 digits, ${condition}: all right`, percent(shareOver(heard.map(({ trial, told }) => ({ speaker: trial.speaker, right: told.map(({ word }) => word).join(' ') === trial.words.join(' ') })))));
}
for (const [name, gate] of [['plain step', PLAIN_STEP], ['question', QUESTION], ['reading', READING]] as const) {
	for (const condition of CONDITIONS) {
		const heard = hear(all.filter((t) => t.kind === 'word' && t.words.length === 0 && t.condition === condition), gate);
		line(`false commands on words outside the vocabulary, ${name}, ${condition}`, percent(shareOver(heard.map((h) => ({ speaker: h.trial.speaker, right: h.told.length > 0 })))), byPeer((row) => row.condition === condition && row.gate === name && row.words.length === 0, (row) => row.heard !== null));
	}
}
const hoursOf = (trials: readonly Posteriors[]) => (trials.reduce((sum, { steps }) => sum + steps, 0) * 0.08) / 3600;
for (const [name, gate] of [['plain step', PLAIN_STEP], ['reading', READING]] as const) {
	for (const source of ['librispeech', 'ljspeech', 'synthetic'] as const) {
		const trials = all.filter((t) => t.kind === 'talk' && t.source === source);
		const told = hear(trials, gate).flatMap((h) => h.told.map(({ word }) => word));
		const hours = hoursOf(trials);
		line(`false commands in talk, ${source}, ${name}`, `${told.length} in ${(hours * 60).toFixed(0)} min, at most ${(mostOf(told.length) / hours).toFixed(1)} an hour ${told.length ? `(${tally(told)})` : ''}`);
	}
	for (const source of ['noise', 'synthetic'] as const) {
		const trials = all.filter((t) => t.kind === 'noise' && t.source === source);
		const told = hear(trials, gate).flatMap((h) => h.told.map(({ word }) => `${word} in ${h.trial.word}`));
		line(`false commands in noise, ${source === 'noise' ? 'recorded' : source}, ${name}`, `${told.length} in ${(hoursOf(trials) * 60).toFixed(0)} min ${told.length ? `(${tally(told)})` : ''}`);
	}
}
function tally(told: readonly string[]): string {
	const counts = new Map<string, number>();
	for (const word of told) counts.set(word, (counts.get(word) ?? 0) + 1);
	return [...counts].sort((a, b) => b[1] - a[1]).map(([word, n]) => `${word} ${n}`).join(', ');
}
const enrolled = enrolledFigures(weighings);
const shareOf = (results: typeof enrolled.words) => percent(shareOver(results.map(({ trial, right }) => ({ speaker: trial.speaker, right }))));
for (const condition of CONDITIONS) {
	const under = enrolled.words.filter(({ trial }) => trial.condition === condition);
	line(`after three takes each, all, ${condition}`, shareOf(under));
	for (const source of ['fsdd', 'speech-commands'] as const) line(`after three takes each, ${source}, ${condition}`, shareOf(under.filter(({ trial }) => trial.source === source)));
}
for (const gate of ['plain step', 'reading'] as const) {
	for (const [name, kind] of [['talk of people', 'talk'], ['noise', 'noise']] as const) {
		const under = enrolled.others.filter((one) => one.gate === gate && one.trial.kind === kind);
		const told = under.flatMap((one) => one.told);
		line(`false commands while enrolled, ${name}, ${gate}`, `${told.length} in ${(hoursOf(under.map(({ trial }) => trial)) * 60).toFixed(0)} min ${told.length ? `(${tally(told)})` : ''}`);
	}
}
const own = ownWordsFigures();
for (const condition of CONDITIONS) {
	const under = own.results.filter((result) => result.condition === condition);
	line(`own words by their takes alone, five of ten digits, ${condition}`, percent(shareOver(under.filter(({ known }) => known))));
	line(`the operator's other five digits, taken for one of them, ${condition}`, percent(shareOver(under.filter(({ known }) => !known).map(({ speaker, told }) => ({ speaker, right: told > 0 })))));
}
const ownLate = own.results.flatMap(({ condition, afterMs }) => (condition === 'clean' && afterMs !== undefined ? [afterMs] : [])).sort((a, b) => a - b);
line('own words, decision after the end of the word, clean', `p50 ${ownLate[ownLate.length >> 1]!.toFixed(0)} ms, p90 ${ownLate[Math.floor(ownLate.length * 0.9)]!.toFixed(0)} ms (n = ${ownLate.length}, 3 speakers)`);
line("own words told in other people's talk", `${own.toldInTalk} in ${(own.talkHours * 60).toFixed(0)} min, at most ${(mostOf(own.toldInTalk) / own.talkHours).toFixed(1)} an hour`);
const voices = hearAll(dataFolder());
for (const { name, share } of operatorRows(allSaid(voices, eigenvoicesWithout([], voices.learned)))) line(`listen to this operator only, ${name}`, percent(share));
const late = hear(words('fsdd', 'clean', DIGITS), READING)
	.flatMap(({ trial, told }) => told.filter(({ word }) => word === trial.word).map(({ step }) => (step + 1) * 80 - trial.endS! * 1000))
	.sort((a, b) => a - b);
line('decision after the end of the word (FSDD, padded)', `p50 ${late[late.length >> 1]!.toFixed(0)} ms, p90 ${late[Math.floor(late.length * 0.9)]!.toFixed(0)} ms (n = ${late.length}, 3 speakers)`);

console.log(`\nThresholds, chosen in each fold without its speakers: ${weighings.map(({ threshold }) => JSON.stringify(threshold)).join(' ')}; shipped: ${JSON.stringify(fitWeighing(all).threshold)}. The curve, at one threshold for all:\n`);
console.log('| threshold | stop, yes, no: clean / 10 dB / 5 dB | digits FSDD: clean / 10 dB | false an hour in synthetic talk, plain step / reading | in 24 min of people, plain / reading |\n|---|---|---|---|---|');
for (const threshold of [0.3, 0.5, 0.6, 0.7, 0.8, 0.9, 0.95]) {
	const set = (w: Weighing): Weighing => ({ ...w, threshold: { digit: threshold, nextDigit: threshold, stop: threshold, word: threshold, phrase: threshold } });
	const recall = (trials: readonly Posteriors[], gate: readonly string[]) => {
		const heard = hear(trials, gate, set);
		return ((100 * heard.filter(rightOnce).length) / heard.length).toFixed(1);
	};
	const falseIn = (gate: readonly string[], synthetic: boolean) => {
		const trials = all.filter((t) => t.kind === 'talk' && (t.source === 'synthetic') === synthetic);
		const count = hear(trials, gate, set).reduce((sum, { told }) => sum + told.length, 0);
		return synthetic ? (count / hoursOf(trials)).toFixed(1) : String(count);
	};
	const yns = CONDITIONS.map((c) => recall(words('speech-commands', c, COMMANDS_RECORDED), QUESTION)).join(' / ');
	const digits = (['clean', '10 dB'] as const).map((c) => recall(words('fsdd', c, DIGITS), READING)).join(' / ');
	console.log(`| ${threshold} | ${yns} | ${digits} | ${falseIn(PLAIN_STEP, true)} / ${falseIn(READING, true)} | ${falseIn(PLAIN_STEP, false)} / ${falseIn(READING, false)} |`);
}
