import type { JournalEvent } from '$lib/run/events';
import type { Report } from './report';
import { xml } from './xml-text';

const [WIDTH, HEIGHT, INSET] = [1000, 92, 6];
const [TOP, BOTTOM, AXIS] = [30, 54, 64];
/** Distances of clock marks that may be drawn; the first that leaves them legible is taken. */
const marksMin = [5, 10, 15, 30, 60, 120, 240, 480, 1440];
const NARROWEST = 22;

/**
 * The rail of a run for paper, as one SVG element: a band to the scale of the wall clock, solid where walked, open where paused
 * or held, posts where stages begin and end with the stage's number, a wall at the booking's end. Black on white.
 */
export function railSvg(report: Report, title: string): string {
	const fromMs = Date.parse(report.beganAt);
	const bookingMs = report.booking ? Date.parse(report.booking.end) - fromMs : 0;
	const endMs = Math.max(Date.parse(report.lastAt) - fromMs, bookingMs, 60_000);
	const x = (ms: number) => Number((INSET + (Math.min(Math.max(ms, 0), endMs) / endMs) * (WIDTH - 2 * INSET)).toFixed(1));
	const at = (stamp: string) => x(Date.parse(stamp) - fromMs);
	const rect = (from: number, to: number, fill: string) => `<rect x="${from}" y="${TOP + 5}" width="${Math.max(0, Number((to - from).toFixed(1)))}" height="${BOTTOM - TOP - 10}" fill="${fill}"/>`;
	const line = (at: number, y1: number, y2: number, width: number) => `<line x1="${at}" x2="${at}" y1="${y1}" y2="${y2}" stroke="#000" stroke-width="${width}"/>`;
	const reached = report.stages.flatMap(({ beganAt, endedAt }, i) => (beganAt ? [{ number: i + 1, from: at(beganAt), to: at(endedAt ?? report.lastAt) }] : []));
	return [
		`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH} ${HEIGHT}" role="img" font-family="sans-serif" font-size="13"><title>${xml(title)}</title>`,
		`<path d="M${INSET} ${TOP + 5}H${WIDTH - INSET}M${INSET} ${BOTTOM - 5}H${WIDTH - INSET}" stroke="#000" stroke-width="1" fill="none"/>`,
		rect(x(0), at(report.lastAt), '#000'),
		...awaySpans(report).map(({ from, to }) => rect(at(from), at(to), '#fff')),
		...reached.flatMap(({ from, to }) => [line(from, TOP, BOTTOM, 2), line(to, TOP, BOTTOM, 2)]),
		...reached.filter(({ from, to }) => to - from >= NARROWEST).map(({ number, from, to }) => `<text x="${((from + to) / 2).toFixed(1)}" y="${TOP - 8}" text-anchor="middle">${number}</text>`),
		...(report.booking ? [line(x(bookingMs), TOP - 10, BOTTOM + 6, 5)] : []),
		...clockMarks(report.beganAt, endMs).map(({ ms, text }) => `${line(x(ms), BOTTOM + 2, AXIS, 1)}<text x="${x(ms)}" y="${AXIS + 15}" text-anchor="middle">${text}</text>`),
		'</svg>'
	].join('');
}

/** From each pause or hold to what ended it; one that still lasts, to the last event. */
function awaySpans({ events, lastAt }: Report): { from: string; to: string }[] {
	const spans: { from: string; to: string }[] = [];
	let since: string | null = null;
	for (const { kind, at } of events.map(({ event }) => event as JournalEvent)) {
		if (kind === 'paused' || kind === 'held') since ??= at;
		else if (since !== null && ['resumed', 'aborted', 'completed'].includes(kind)) {
			spans.push({ from: since, to: at });
			since = null;
		}
	}
	return since === null ? spans : [...spans, { from: since, to: lastAt }];
}

/** Round times of day, as the device showed them at the begin. */
function clockMarks(beganAt: string, spanMs: number): { ms: number; text: string }[] {
	const startMs = (Number(beganAt.slice(11, 13)) * 60 + Number(beganAt.slice(14, 16))) * 60_000 + Number(beganAt.slice(17, 19)) * 1000;
	const stepMs = (marksMin.find((minutes) => spanMs / (minutes * 60_000) <= 12) ?? 1440) * 60_000;
	const marks = [];
	for (let ms = Math.ceil(startMs / stepMs) * stepMs; ms <= startMs + spanMs; ms += stepMs) {
		// half a label's width from either end it would be cut
		if (ms - startMs < spanMs * 0.02 || ms - startMs > spanMs * 0.98) continue;
		const minutes = Math.round(ms / 60_000) % 1440;
		marks.push({ ms: ms - startMs, text: `${String(Math.floor(minutes / 60)).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}` });
	}
	return marks;
}
