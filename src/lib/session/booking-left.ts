import type { RunState } from '$lib/run/state';

/** Until the booking's end, negative where it is past; null without a booking. */
export const bookingLeftMs = ({ booking }: Pick<RunState, 'booking'>, nowAtMs: number): number | null => (booking ? Date.parse(booking.end) - nowAtMs : null);
