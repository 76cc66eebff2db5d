/** What every command of the command line is, and how it reports. Contract: tests/behaviour/command-line.md. */

/** Exit codes: 0 done and all well; 1 done, and what was looked at is at fault; 2 bad use or unreadable input, nothing written. */
export type ExitCode = 0 | 1 | 2;

export interface Command {
	/** One line, shown by `handrail help`. */
	readonly purpose: string;
	/** Full usage, shown by `handrail help NAME` and after a bad use. */
	readonly usage: string;
	/** Runs with the arguments after the command's name. Throws BadUse for exit 2. */
	run(args: readonly string[], io: Io): Promise<ExitCode>;
}

/** Where results (stdout) and messages (stderr) go; tests pass their own. */
export interface Io {
	out(text: string): void;
	err(text: string): void;
}

/** Bad use or unreadable input: the message says what was wrong, where, and what was expected. */
export class BadUse extends Error {
	override readonly name = 'BadUse';
}
