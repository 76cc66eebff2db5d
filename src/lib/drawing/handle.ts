/** A point of a drawing that can be moved, by finger, mouse or arrow keys, to give a reading. */
export interface Handle {
	readonly id: string;
	/** Where it stands, px from the drawing's upper left corner. */
	readonly x: number;
	readonly y: number;
	readonly along: 'x' | 'y' | 'both';
	/** What it gives, for a reader. */
	readonly label: string;
	/** What it gives now, in words. */
	readonly says: string;
	/** The parameters' values (SI) if it stood at that point. */
	at(x: number, y: number): Readonly<Record<string, number>>;
}

/** The handle nearest to a point within `reachPx`, or undefined. */
export function nearestHandle(handles: readonly Handle[], x: number, y: number, reachPx: number): Handle | undefined {
	const [nearest] = handles
		.map((handle) => ({ handle, awayPx: Math.hypot(handle.x - x, handle.y - y) }))
		.filter(({ awayPx }) => awayPx <= reachPx)
		.sort((a, b) => a.awayPx - b.awayPx);
	return nearest?.handle;
}
