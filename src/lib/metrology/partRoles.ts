import type { ConditionId, Edition, PartId } from '$lib/procedure/edition';

/**
 * What the parts of an edition are to the ledger. Editions name their parts themselves; the ledger goes by how they hang together: a
 * part that can carry nothing, and has a condition "of X" or "X" for another part X, carries what X holds, so X is a slot. A stage that
 * can stand "at" a part carries nothing: it has no condition that says so.
 */
export interface Roles {
	/** The part that carries a tip: the probe. Null where there is none. */
	readonly carrier: PartId | null;
	/** The carrier's condition that means: nothing on it. */
	readonly carrierEmpty: ConditionId | null;
	readonly slots: readonly PartId[];
	/** The slot whose tip the carrier has in this condition; null: none, or not known. */
	slotCarried(condition: ConditionId): PartId | null;
	slotKind(condition: ConditionId): 'holds' | 'worn' | 'empty' | 'absent' | 'unknown';
	readonly lamella: PartId | null;
	/** The part that says on which post it is. */
	readonly post: PartId | null;
}

const wornConditions: readonly ConditionId[] = ['worn', 'damaged', 'bent', 'used'];

/** Roles of an edition's parts. Lamella and post go by these ids, because nothing else tells them from other parts. */
export function rolesOf(edition: Edition): Roles {
	const ids = edition.parts.map(({ id }) => id);
	const slotOf = (condition: ConditionId): PartId | null =>
		ids.find((id) => condition === id || condition === `of-${id}`) ?? null;
	const isEmpty = ({ id }: { readonly id: ConditionId }): boolean => id === 'none' || id === 'empty';
	const carrier = edition.parts.find(({ conditions }) => conditions.some(isEmpty) && conditions.some(({ id }) => slotOf(id) !== null));
	const has = (id: PartId): PartId | null => (ids.includes(id) ? id : null);
	return {
		carrier: carrier?.id ?? null,
		carrierEmpty: carrier?.conditions.find(isEmpty)?.id ?? null,
		slots: carrier ? carrier.conditions.flatMap(({ id }) => slotOf(id) ?? []) : [],
		slotCarried: slotOf,
		slotKind(condition) {
			if (condition === 'empty' || condition === 'absent' || condition === 'unknown') return condition;
			return wornConditions.includes(condition) ? 'worn' : 'holds';
		},
		lamella: has('lamella'),
		post: has('post')
	};
}
