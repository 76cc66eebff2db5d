import * as m from '$lib/paraglide/messages';

/** "4 min ago", "2 h ago", "3 days ago". */
export function agoText(ms: number): string {
	const minutes = Math.max(0, Math.round(ms / 60_000));
	if (minutes < 1) return m.ago_now();
	if (minutes < 90) return m.ago_minutes({ minutes });
	const hours = Math.round(minutes / 60);
	return hours < 36 ? m.ago_hours({ hours }) : m.ago_days({ days: Math.round(hours / 24) });
}
