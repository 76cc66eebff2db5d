/** Which words are open in the situations that the bench measures. */
import { COMMANDS, type CommandId } from '$lib/run/commands';

const said = (...ids: CommandId[]) => ids.flatMap((id) => COMMANDS.find((row) => row.id === id)?.said['en'] ?? []);
const PLAIN: readonly CommandId[] = [
	'next', 'back', 'again', 'where', 'time', 'pause', 'stop', 'trouble', 'note', 'photo', 'skip', 'late', 'hands', 'deaf', 'booking', 'parts', 'handOver', 'endVisit'
];

/** A step without a question. */
export const PLAIN_STEP = said(...PLAIN);
/** The same with a question open. */
export const QUESTION = [...PLAIN_STEP, ...said('yes', 'no')];
/** A step that asks for a reading: no "next", but digits. */
export const READING = [...PLAIN_STEP.filter((word) => word !== 'next'), ...said('digits')];
