import { rolesOf } from '$lib/metrology/partRoles';
import type { Edition, StageId, Step } from '$lib/procedure/edition';

/**
 * The stage that must begin in time so that everything is brought back: the last one with a step that, if all goes plainly, empties the
 * gripper and fills a slot in one act. Null where a procedure gives no tip back.
 */
export function returnStageOf(edition: Edition): StageId | null {
	const { carrier, carrierEmpty, slots, slotKind } = rolesOf(edition);
	const givesBack = ({ outcomes: [plain] }: Step): boolean =>
		plain !== undefined && plain.set.some(({ part, to }) => part === carrier && to === carrierEmpty) && plain.set.some(({ part, to }) => slots.includes(part) && slotKind(to) === 'holds');
	return edition.stages.findLast(({ steps }) => steps.some((path) => edition.steps[path] && givesBack(edition.steps[path])))?.id ?? null;
}
