import type { PartId } from '$lib/procedure/edition';
import type { PartChange } from './partHistory';
import type { Roles } from './partRoles';

/** The life of one tip, from the slot it was first met in to its retirement. */
export interface Tip {
	/** Our own id, for labels: slot, first eight digits of the run it was first met in, number of the event. */
	readonly id: string;
	readonly slot: PartId;
	readonly firstSeen: string;
	/** Times it was taken onto the probe. */
	readonly uses: readonly { readonly at: string; readonly by: string; readonly run: string }[];
	/** In its slot, on the probe, worn in its slot, taken out of its slot, lost from the probe, or no longer known. */
	readonly now: 'in slot' | 'on probe' | 'worn' | 'taken out' | 'lost' | 'unknown';
	readonly since: string;
	readonly by: string;
	/** Why it is no longer used: the answer given, and at which step. */
	readonly retired: {
		readonly at: string;
		readonly by: string;
		readonly answer: string | null;
		readonly step: string | null;
	} | null;
}

/** Follows each tip from slot to probe and back. Takes all changes of one event together: a pick-up empties a slot in the same breath. */
export class TipBook {
	private readonly tips: Tip[] = [];
	/** Place in `tips` of the tip that belongs to a slot now. */
	private readonly belongs = new Map<PartId, number>();
	private carried: PartId | null = null;

	all(): readonly Tip[] {
		return this.tips;
	}

	/** `changes` are those of one event of one run, in any order. */
	take(changes: readonly PartChange[], roles: Roles): void {
		const probe = changes.find(({ part }) => part === roles.carrier);
		const before = this.carried;
		const after = probe ? roles.slotCarried(probe.is) : before;
		this.carried = after;
		for (const slot of roles.slots) {
			const change = changes.find(({ part }) => part === slot);
			if (probe && after === slot && before !== slot) this.pickUp(slot, probe);
			else if (probe && before === slot && after !== slot) this.putDown(slot, probe, change, roles);
			else if (change && after !== slot) this.slotSeen(slot, change, roles);
		}
	}

	private pickUp(slot: PartId, probe: PartChange): void {
		const tip = this.of(slot);
		if (!tip || tip.now === 'lost' || tip.now === 'taken out') this.meet(slot, probe);
		// found on the probe as a run begins, or put back there by an undoing: no new use
		const found = probe.was === null || probe.through === 'undone';
		this.set(slot, probe, 'on probe', found ? 'same' : 'used');
	}

	private putDown(slot: PartId, probe: PartChange, change: PartChange | undefined, roles: Roles): void {
		const kind = change ? roles.slotKind(change.is) : 'empty';
		const now =
			kind === 'holds' ? 'in slot' : kind === 'worn' ? 'worn' : probe.is === roles.carrierEmpty ? 'lost' : 'unknown';
		this.set(slot, change ?? probe, now, probe.through === 'undone' ? 'not used' : 'same');
	}

	private slotSeen(slot: PartId, change: PartChange, roles: Roles): void {
		const tip = this.of(slot);
		const kind = roles.slotKind(change.is);
		if (kind === 'holds' || kind === 'worn') {
			if (!tip || tip.now === 'taken out' || tip.now === 'lost') this.meet(slot, change);
			this.set(slot, change, kind === 'worn' ? 'worn' : 'in slot', 'same');
		} else if (!tip || tip.now === 'lost' || tip.now === 'taken out') return;
		else this.set(slot, change, kind === 'unknown' ? 'unknown' : 'taken out', 'same');
	}

	private of(slot: PartId): Tip | undefined {
		const index = this.belongs.get(slot);
		return index === undefined ? undefined : this.tips[index];
	}

	private meet(slot: PartId, { run, seq, at, by }: PartChange): void {
		this.belongs.set(slot, this.tips.length);
		this.tips.push({
			id: `${slot}-${run.slice(0, 8)}-${seq}`,
			slot,
			firstSeen: at,
			uses: [],
			now: 'in slot',
			since: at,
			by,
			retired: null
		});
	}

	private set(
		slot: PartId,
		{ at, by, run, answer, step }: PartChange,
		now: Tip['now'],
		use: 'same' | 'used' | 'not used'
	): void {
		const index = this.belongs.get(slot);
		const tip = index === undefined ? undefined : this.tips[index];
		if (index === undefined || !tip) return;
		const same = tip.now === now;
		const ends = now === 'worn' || now === 'taken out' || now === 'lost';
		this.tips[index] = {
			...tip,
			now,
			since: same ? tip.since : at,
			by: same ? tip.by : by,
			uses: use === 'used' ? [...tip.uses, { at, by, run }] : use === 'not used' ? tip.uses.slice(0, -1) : tip.uses,
			// a worn tip that is then taken out was retired when it was found worn
			retired: !ends ? null : (tip.retired ?? { at, by, answer, step })
		};
	}
}
