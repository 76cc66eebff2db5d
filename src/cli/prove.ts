import { verifyEd25519 } from '$lib/adapters/signer/verify-ed25519';
import { disclose, disclosureFault, readDisclosure } from '$lib/record/disclose';
import { type ClosingProof, type Proof, prove as proofOf, type Verdict } from '$lib/record/prove';
import { readJournal, type ReadJournal } from '$lib/record/read-journal';
import { BadUse, type Command, type ExitCode, type Io } from './command';
import { readRun } from './read-run';
import { writeOut } from './write-out';

export const prove: Command = {
	purpose: 'who, when, which edition, complete or cut, and where anything was altered',
	usage: [
		'usage: handrail prove FILE [--json]',
		'       handrail prove JOURNAL --event N [-o OUT]',
		'',
		'FILE is a journal, JSON export, .eln archive, or one disclosed event. With --event one event is shown with its inclusion proof (RFC 9162) and the',
		'rest withheld. Whose the signing key is must be known from elsewhere: a proof names the key, it does not vouch for it.',
		'Exit: 0 proved, 1 not proved (altered, cut, not closed, not signed), 2 bad use, nothing written.'
	].join('\n'),
	async run(args, io): Promise<ExitCode> {
		const { path, json, event, out } = readOptions(args);
		const text = await textOf(path, io);
		if (text === null) return 1;
		if (event !== null) return discloseOne(readJournal(text), event, out, io);
		const disclosure = readDisclosure(text);
		if (disclosure) {
			const fault = await disclosureFault(disclosure, verifyEd25519);
			const { event: shown, closing, key } = disclosure;
			if (json) io.out(JSON.stringify({ proved: fault === null, fault, event: shown, closing, key }) + '\n');
			else io.out(fault ? `not proved: ${fault}\n` : `proved: event ${shown.seq} of run ${shown.run}, "${shown.kind}" by ${shown.by} at ${shown.at}, stands among ${closing.count} events, root ${closing.root}\nkey ${key?.['x']}\n`);
			return fault ? 1 : 0;
		}
		const journal = readJournal(text);
		if (!journal.events.length) throw new BadUse(`${path} holds no sound event: ${journal.fault?.reason ?? 'it is empty'}`);
		const proof = await proofOf(journal, verifyEd25519);
		io.out(json ? JSON.stringify(proof) + '\n' : words(proof));
		return proof.verdict === 'signed' ? 0 : 1;
	}
};

/** Null where the file was refused: the reason is told. */
async function textOf(path: string, io: Io): Promise<string | null> {
	try {
		return (await readRun(path)).text;
	} catch (fault) {
		if (!(fault instanceof RangeError)) throw fault;
		io.err(`${path}: not proved: ${fault.message}\n`);
		return null;
	}
}

async function discloseOne(journal: ReadJournal, event: number, out: string | null, io: Io): Promise<ExitCode> {
	if (journal.fault) {
		io.err(`the chain breaks at event ${journal.fault.seq}: ${journal.fault.reason}; nothing is disclosed from a broken journal\n`);
		return 1;
	}
	let text: string;
	try {
		text = disclose(journal.events, event);
	} catch (fault) {
		if (fault instanceof RangeError) throw new BadUse(fault.message);
		throw fault;
	}
	if (out !== null) await writeOut(out, text);
	else io.out(text);
	return 0;
}

const verdicts: Readonly<Record<Verdict, string>> = {
	signed: 'proved: whole, closed and signed',
	unsigned: 'not proved: whole and closed, but not signed; anyone could have made it',
	open: 'not proved: nothing closes its end; the run goes on, or the end was cut off',
	altered: 'not proved: altered'
};

function words(proof: Proof): string {
	const { edition, fault } = proof;
	return [
		verdicts[proof.verdict],
		...(fault ? [`  at event ${fault.seq}, line ${fault.line}: ${fault.reason}`] : []),
		`run       ${proof.run}`,
		`edition   ${edition.title} (${edition.id} ${edition.version}, ${edition.hash})`,
		`people    ${proof.people.join(', ')}`,
		`devices   ${proof.devices.join(', ')}`,
		`from, to  ${proof.beganAt}, ${proof.lastAt}`,
		`ended     ${proof.ended ?? 'no'}`,
		`events    ${proof.count}, head ${proof.head}`,
		...proof.closings.map(closingWords)
	].map((line) => line + '\n').join('');
}

const closingWords = ({ seq, at, by, device, fault, signature, key, keyFrom, countersigned }: ClosingProof): string =>
	[
		`closing   event ${seq}, ${at}, ${by}, ${device}: ${fault ?? 'fits'}; signature ${signature}${key && signature !== 'none' ? `, key ${key['x']}${keyFrom === 'closing' ? ' (first named in the closing)' : ''}` : ''}`,
		...countersigned.map(({ name, key: own, valid }) => `          countersigned by ${name}, key ${own['x']}: ${valid ? 'fits' : 'does not fit'}`)
	].join('\n');

function readOptions(args: readonly string[]): { path: string; json: boolean; event: number | null; out: string | null } {
	let path: string | null = null;
	let event: number | null = null;
	let out: string | null = null;
	for (let i = 0; i < args.length; i++) {
		const arg = args[i]!;
		if (arg === '--json') continue;
		if (arg === '--event' || arg === '-o') {
			const value = args[++i];
			if (value === undefined) throw new BadUse(`${arg} needs a value`);
			if (arg === '-o') out = value;
			else if (/^\d{1,9}$/.test(value)) event = Number(value);
			else throw new BadUse(`--event ${value}; expected the number of an event`);
		} else if (arg.startsWith('-')) throw new BadUse(`"${arg}" is not understood; expected --json, --event N or -o OUT`);
		else if (path !== null) throw new BadUse(`one file at a time; got ${path} and ${arg}`);
		else path = arg;
	}
	if (path === null) throw new BadUse('no file named; expected a .journal.jsonl file or a disclosed event');
	if (out !== null && event === null) throw new BadUse('-o goes with --event: a proof is printed');
	return { path, json: args.includes('--json'), event, out };
}
