import * as m from '$lib/paraglide/messages';
import { aboutText, fitsText } from '../walk/duration-text';
import type { RailGeometry } from './geometry';
import type { Wish } from './labels';
import type { RailModel } from './model';

/** Says a moment of the run (ms since it began) as the clock on the wall shows it. */
export type ClockWords = (sinceBeginMs: number) => string;

/** Words above the band, most important first: now, the booking's end, the likely end, the begin. */
export function wordsAbove(model: RailModel, place: RailGeometry, clock: ClockWords): Wish[] {
	const wishes: Wish[] = [];
	if (place.now !== null) wishes.push({ id: 'now', texts: [clock(model.nowMs)], at: place.now, stands: ['about'], slides: true });
	if (place.wall !== null && model.bookingEndMs !== null) {
		const time = clock(model.bookingEndMs);
		wishes.push({ id: 'wall', texts: [m.rail_booking_short({ time }), time], at: place.wall, stands: ['about', 'before', 'after'], slides: true });
	}
	if (model.ends && place.likely) {
		const [from, to] = [clock(model.ends.p10Ms), clock(model.ends.p90Ms)];
		const likely = { at: (place.likely.from + place.likely.to) / 2, stands: ['about', 'before'] as const };
		wishes.push({ id: 'likely', texts: [m.rail_likely({ from, to }), `${from}–${to}`], ...likely });
	}
	wishes.push({ id: 'begun', texts: [clock(0)], at: 0, stands: ['about'], slides: true });
	return wishes;
}

/** Words under the band, most important first: the stage in hand, latest starts, then stages by their length. */
export function wordsUnder(model: RailModel, place: RailGeometry, clock: ClockWords): Wish[] {
	const named = model.stages
		.filter((stage) => stage.state !== 'left out')
		.map((stage, i) => {
			const from = place.x(stage.startMs ?? stage.begins?.p50Ms ?? 0);
			const to = place.x(stage.endMs ?? stage.ends?.p50Ms ?? model.nowMs);
			const wish: Wish = { id: `stage ${i}`, texts: [stage.name, stage.short], at: from, stands: ['after'] };
			return { wish: stage.state === 'running' ? { ...wish, slides: true, keep: true } : wish, running: stage.state === 'running', length: to - from };
		})
		.sort((a, b) => Number(b.running) - Number(a.running) || b.length - a.length);
	const latest = model.latestStarts.map((start, i): Wish => {
		const words = { stage: start.name, time: clock(start.atMs) };
		const text = start.atMs < model.nowMs ? m.rail_latest_passed(words) : m.rail_latest(words);
		return { id: `latest ${i}`, texts: [text, m.rail_latest_short({ time: words.time })], at: place.latest[i] as number, stands: ['after', 'before', 'about'], slides: true, keep: i === 0 };
	});
	return [...named.filter((n) => n.running).map((n) => n.wish), ...latest, ...named.filter((n) => !n.running).map((n) => n.wish)];
}

/** The same picture in sentences, for ears. */
export function railSentences(model: RailModel, clock: ClockWords): string[] {
	const span = (s: { fromMs: number; toMs: number }) => ({ from: clock(s.fromMs), to: clock(s.toMs) });
	return [
		m.rail_begun({ time: clock(0) }),
		...(model.live ? [m.rail_now({ time: clock(model.nowMs) })] : []),
		...model.stages.map((stage) => {
			const { name } = stage;
			if (stage.state === 'left out') return m.rail_stage_left_out({ stage: name });
			const fromMs = stage.startMs ?? stage.begins?.p50Ms ?? 0;
			const toMs = stage.endMs ?? stage.ends?.p50Ms ?? model.nowMs;
			const words = { stage: name, from: clock(fromMs), to: clock(toMs) };
			if (stage.state === 'walked') return m.rail_stage_walked({ ...words, time: aboutText(toMs - fromMs) });
			return stage.state === 'running' ? m.rail_stage_now(words) : m.rail_stage_to_come(words);
		}),
		...model.pauses.map((pause) => m.rail_pause(span(pause))),
		...model.gaps.map((gap) => m.rail_gap(span(gap))),
		...(model.ends ? [m.rail_likely_long({ from: clock(model.ends.p10Ms), to: clock(model.ends.p90Ms) })] : []),
		...model.latestStarts.map((start) =>
			(start.atMs < model.nowMs ? m.rail_latest_passed : m.rail_latest)({ stage: start.name, time: clock(start.atMs) })
		),
		model.bookingEndMs === null ? m.rail_no_booking() : m.rail_booking({ time: clock(model.bookingEndMs) }),
		...bookingHolds(model)
	];
}

/** Whether it fits; once the booking is past there is no chance left to speak of. */
function bookingHolds({ live, fits, bookingEndMs, nowMs }: RailModel): string[] {
	if (live && bookingEndMs !== null && bookingEndMs < nowMs) return [m.rail_booking_over({ time: aboutText(nowMs - bookingEndMs) })];
	return fits === null ? [] : [fitsText(fits)];
}
