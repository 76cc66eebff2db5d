import { COMMANDS, type CommandId } from '$lib/run/commands';

/** Asked first: two minutes' worth, in the order of their use. "next" has no recording of people to be trained on. */
const FIRST: readonly CommandId[] = ['next', 'stop', 'yes', 'no', 'back', 'again', 'trouble', 'pause', 'resume', 'confirm'];

const saidFor = (id: CommandId) => COMMANDS.find((row) => row.id === id)?.said['en'] ?? [];

/** Words of the table of commands as they are asked for: first those that a walk needs most, with the digits, then the others. */
export const FIRST_WORDS: readonly string[] = [...FIRST.map((id) => saidFor(id)[0]!), ...saidFor('digits')];
export const ALL_WORDS: readonly string[] = [...new Set([...FIRST_WORDS, ...COMMANDS.flatMap((row) => row.said['en'] ?? [])])];

/** A take is said and looked at in about so long; timed with a person who reads the screen: not measured, common sense. */
const SECONDS_A_TAKE = 1.7;
export const minutesFor = (takes: number): number => Math.max(1, Math.round((takes * SECONDS_A_TAKE) / 60));

const statesOf = (word: string) => COMMANDS.filter((row) => (row.said['en'] ?? []).includes(word)).flatMap(({ id, states }) => states.map((state) => ({ id, state })));

/** Whether two words can be open at the same time: their commands are allowed in a common state of the run, and a reading closes "next". */
export function openTogether(a: string, b: string): boolean {
	const [one, other] = [statesOf(a), statesOf(b)];
	const ids = [one[0]?.id, other[0]?.id];
	if (ids.includes('next') && ids.includes('digits')) return false;
	return one.some(({ state }) => other.some((row) => row.state === state));
}
