/** The figures of "listen to this operator only", as rows: at three thresholds, by place, room and who spoke. */
import { shareOver, type Share } from './interval';
import { type Judged, judged, OWN_REFUSED, type Said } from './operator';
import { PLACES, ROOMS } from '../voices/hearings';

export interface OperatorRow {
	readonly name: string;
	/** Over operators. */
	readonly share: Share;
}

/** Shares of own words refused that the thresholds are chosen for; the second is shipped. */
const REFUSED = [0.03, OWN_REFUSED, 0.1] as const;
/** Octaves (a semitone and a half) within which two voices are pitched alike. */
const ALIKE = 0.125;

const sources = { 'speech-commands': 'Speech Commands', fsdd: 'FSDD' } as const;

export function operatorRows(said: readonly Said[]): OperatorRow[] {
	return REFUSED.flatMap((refused) => {
		const all = judged(said, refused);
		const row = (name: string, some: readonly Judged[], right: (one: Judged) => boolean): OperatorRow[] =>
			some.length > 0 ? [{ name: `${name} (threshold for ${100 * refused} %)`, share: shareOver(some.map((one) => ({ speaker: one.said.operator, right: right(one) }))) }] : [];
		return (['speech-commands', 'fsdd'] as const).flatMap((source) =>
			PLACES.flatMap((place) => ROOMS.flatMap((room) => {
				const here = all.filter((one) => one.said.source === source && one.said.place === place && one.said.room === room);
				const own = here.filter(({ said: one }) => one.operator === one.speaker);
				const others = here.filter(({ said: one }) => one.operator !== one.speaker);
				const where = `${sources[source]}, ${place}, ${room}`;
				return [
					...row(`${where}: own enrolled words refused`, own.filter((one) => one.said.enrolled), (one) => !one.passes),
					...row(`${where}: own other words refused`, own.filter((one) => !one.said.enrolled), (one) => !one.passes),
					...row(`${where}: neighbours' words taken`, others, (one) => one.passes),
					...row(`${where}: of neighbours pitched alike`, others.filter(({ said: one }) => one.pitchOff !== null && one.pitchOff < ALIKE), (one) => one.passes)
				];
			}))
		);
	});
}
