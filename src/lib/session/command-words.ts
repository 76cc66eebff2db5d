import * as m from '$lib/paraglide/messages';
import type { CommandId } from '$lib/run/commands';

const labels: Readonly<Record<CommandId, () => string>> = {
	next: m.cmd_next, back: m.cmd_back, again: m.cmd_again, where: m.cmd_where, time: m.cmd_time, yes: m.cmd_yes, no: m.cmd_no,
	answer: m.cmd_answer, digits: m.cmd_digits, confirm: m.cmd_confirm, pause: m.cmd_pause, resume: m.cmd_resume, stop: m.cmd_stop,
	trouble: m.cmd_trouble, note: m.cmd_note, photo: m.cmd_photo, skip: m.cmd_skip, late: m.cmd_late, hands: m.cmd_hands,
	deaf: m.cmd_deaf, ears: m.cmd_ears, booking: m.cmd_booking, parts: m.cmd_parts, details: m.cmd_details,
	handOver: m.cmd_handOver, endVisit: m.cmd_endVisit
};
/** A command's name on its target. */
export const commandLabel = (id: CommandId): string => labels[id]();
