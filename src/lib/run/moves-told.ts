import { judgeLoop, type LoopJudged } from './adjust';
import type { ForeignEvent, JournalEvent } from './events';
import { emptyState, fold } from './fold';

/** A round of an adjust loop, with what the guide told of it. */
export interface RoundTold extends Pick<LoopJudged, 'told' | 'outcome' | 'move'> {
	/** The reading that completed the round. */
	readonly seq: number;
	readonly step: string;
	/** From 1. */
	readonly round: number;
	/** False in a journal that does not say what was known of the instrument: then no sign is told here, whatever was told then. */
	readonly instrumentKnown: boolean;
}

/** Every round of a journal's adjust loops in order, those taken back too, reckoned again from the journal alone. */
export function movesTold(events: Iterable<JournalEvent | ForeignEvent>): readonly RoundTold[] {
	const rounds: RoundTold[] = [];
	let state = emptyState;
	for (const event of events) {
		const before = state.rounds.length;
		state = fold(state, event);
		if (event.kind !== 'reading' || state.rounds.length <= before) continue;
		const judged = judgeLoop(state);
		if (!judged) continue;
		const { told, outcome, move } = judged;
		rounds.push({ seq: event.seq, step: state.step, round: state.rounds.length, told, outcome, move, instrumentKnown: state.instrument !== null });
	}
	return rounds;
}
