import { type Clocks, clocksAgree, elapsedMs, wallMs } from './clocks';
import type { JournalEvent } from './events';
import type { EventStamp, RunStatus } from './state';
import { noTime, type Totals } from './totals';

/** A stretch between two events that no clock measured, and what was answered about it. */
export interface Gap {
	/** The events on either side; the answer names `fromSeq`. */
	readonly fromSeq: number;
	readonly toSeq: number;
	/** What each clock says; the monotonic one only within one boot. */
	readonly wallMs: number;
	readonly monoMs: number | null;
	/** `clocks`: one was set or one stood still, which look alike; `reopened`: the app was closed; `boot`: its clock began anew; `device`: another device went on. */
	readonly reason: 'clocks' | 'reopened' | 'boot' | 'device';
	readonly status: RunStatus;
}

/** The time between two events, counted under the state in between: measured, or a gap. */
export interface Stretch {
	readonly totals: Totals;
	readonly gap: Gap | null;
}

const nothing: Stretch = { totals: noTime, gap: null };

const counted = (status: RunStatus, ms: number): Totals => {
	if (status === 'running') return { ...noTime, elapsedMs: ms };
	if (status === 'paused') return { ...noTime, pausedMs: ms };
	return status === 'held' ? { ...noTime, heldMs: ms } : noTime;
};

const unmeasured = (gap: Gap): Stretch => ({ totals: { ...noTime, gaps: 1, gapWallMs: gap.wallMs }, gap });

const isLive = (status: RunStatus): boolean => status === 'running' || status === 'paused' || status === 'held';

function gapBetween(
	from: EventStamp,
	since: Clocks,
	event: Clocks & { seq: number },
	reason: Gap['reason'],
	status: RunStatus
): Stretch {
	const monoMs = since.boot === event.boot ? elapsedMs(since, event) : null;
	return unmeasured({ fromSeq: from.seq, toSeq: event.seq, wallMs: wallMs(since, event), monoMs, reason, status });
}

/** The stretch from the event before to this one. `device` is the one that wrote the event before. */
export function stretchTo(from: EventStamp, device: string, event: JournalEvent, status: RunStatus): Stretch {
	if (!isLive(status)) return nothing;
	if (event.kind === 'reopened') return reopenedAfter(from, event, status);
	if (clocksAgree(from, event)) return { totals: counted(status, elapsedMs(from, event)), gap: null };
	const reason = from.boot === event.boot ? 'clocks' : device === event.device ? 'boot' : 'device';
	return gapBetween(from, from, event, reason, status);
}

/** Until the last sign of life the time is measured, so that only the true gap is not. */
function reopenedAfter(
	from: EventStamp,
	event: Extract<JournalEvent, { kind: 'reopened' }>,
	status: RunStatus
): Stretch {
	const { lastAt, lastMono, lastBoot } = event.data;
	const alive: Clocks = { at: lastAt, mono: lastMono, boot: lastBoot };
	if (!clocksAgree(from, alive)) return gapBetween(from, from, event, 'reopened', status);
	const lived = counted(status, elapsedMs(from, alive));
	const { totals, gap } = gapBetween(from, alive, event, 'reopened', status);
	return { totals: { ...totals, elapsedMs: lived.elapsedMs, pausedMs: lived.pausedMs, heldMs: lived.heldMs }, gap };
}
