import { BadUse, type Command, type ExitCode, type Io } from './command';

/** Loaded only when named, so that a small command starts fast. */
const commands: Record<string, () => Promise<Command>> = {
	backtest: async () => (await import('./backtest')).backtest,
	export: async () => (await import('./export')).exportJournal,
	hear: async () => (await import('./hear')).hear,
	import: async () => (await import('./import')).importRun,
	prove: async () => (await import('./prove')).prove,
	reckon: async () => (await import('./reckon')).reckon,
	replay: async () => (await import('./replay')).replay,
	serve: async () => (await import('./serve')).serve,
	verify: async () => (await import('./verify')).verifyFiles
};

async function overview(): Promise<string> {
	const lines: string[] = ['usage: handrail COMMAND …', ''];
	for (const [name, load] of Object.entries(commands)) lines.push(`  ${name.padEnd(9)} ${(await load()).purpose}`);
	lines.push('', 'handrail help COMMAND tells its options. Exit: 0 done, 1 what was looked at is at fault, 2 bad use.');
	return lines.join('\n') + '\n';
}

async function main(args: readonly string[], io: Io): Promise<ExitCode> {
	const [name, ...rest] = args;
	if (name === undefined || name === 'help' || name === '--help') {
		const load = commands[rest[0] ?? ''];
		io.out(load ? (await load()).usage + '\n' : await overview());
		return 0;
	}
	const load = commands[name];
	if (!load) {
		io.err(`handrail: no command "${name}"; expected one of ${Object.keys(commands).join(', ')}\n`);
		return 2;
	}
	const command = await load();
	if (rest.includes('--help')) {
		io.out(command.usage + '\n');
		return 0;
	}
	try {
		return await command.run(rest, io);
	} catch (fault) {
		if (!(fault instanceof BadUse)) throw fault;
		io.err(`handrail ${name}: ${fault.message}\n`);
		return 2;
	}
}

// stdout may be a closed pipe (`| head`): that ends the command quietly
process.stdout.on('error', (fault: NodeJS.ErrnoException) => process.exit(fault.code === 'EPIPE' ? 0 : 2));
process.exitCode = await main(process.argv.slice(2), {
	out: (text) => void process.stdout.write(text),
	err: (text) => void process.stderr.write(text)
});
