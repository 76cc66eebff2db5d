/** What the head learns to tell apart: the words of the table of commands, and others offered for them by measurement. */
import { COMMANDS } from '$lib/run/commands';

/** A second word for "next", and one for "stop listening", which begins with "stop": taken if they prove better. */
const OFFERED = ['carry on', 'ears off'];

export const DIGITS = ['zero', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine'] as const;

/** Every word, in the order of the head's outputs. */
export const VOCABULARY: readonly string[] = [...new Set([...COMMANDS.flatMap((row) => row.said['en'] ?? []), ...OFFERED])];

/** Words with recordings of people to train on and to measure with; of the others no accuracy is claimed. */
export const RECORDED: readonly string[] = ['yes', 'no', 'stop', ...DIGITS];
