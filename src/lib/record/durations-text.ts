/** A duration as people read it: "45 s", "12 min 05 s", "1 h 02 min 05 s"; rounded to whole seconds. */
export function durationText(ms: number): string {
	const seconds = Math.round(ms / 1000);
	const two = (n: number) => String(n).padStart(2, '0');
	const [h, m, s] = [Math.floor(seconds / 3600), Math.floor((seconds % 3600) / 60), seconds % 60];
	if (h) return `${h} h ${two(m)} min ${two(s)} s`;
	return m ? `${m} min ${two(s)} s` : `${s} s`;
}

/** Signed, for the offset between two clocks: "+1 min 05 s". */
export const offsetText = (ms: number): string => (ms < 0 ? '−' : '+') + durationText(Math.abs(ms));
