import type { Axis } from '$lib/metrology/axes';
import type { AdjustSpec, Step } from '$lib/procedure/edition';
import {
	judgeRounds,
	type Measured,
	type MoveName,
	moves,
	type MoveSettings,
	type MoveTold,
	type Round,
	type Words
} from '$lib/metrology/moves';
import { unitFactor } from '$lib/metrology/units';
import type { Told } from './command';
import type { ReadingTaken, RunState } from './state';

/** Where an adjust loop stands after its newest round, and what the guide says of it (R14). */
export interface LoopJudged {
	/** The outcome that follows; null: another round. */
	readonly outcome: 'within' | 'beyond' | null;
	readonly told: readonly Told[];
	/** The newest round's move, for a drawing; null where none could be reckoned. */
	readonly move: MoveTold | null;
	/** |error| ÷ tolerance of every round, oldest first: how the loop converges. Null where it could not be reckoned. */
	readonly shares: readonly (number | null)[];
}

type Taken = Readonly<Record<string, ReadingTaken>>;

/**
 * Judges the rounds of the step the walk stands at; null where it is no adjust step or no round is complete. What is known of the
 * instrument comes from the journal alone, so that the move told today can be told again from it years later.
 */
export function judgeLoop(state: RunState): LoopJudged | null {
	const step = state.edition.steps[state.step];
	const newest = state.rounds[state.rounds.length - 1];
	if (!step?.adjust || !newest) return null;
	const spec = step.adjust;
	const settings = moveSettings(state, step, spec);
	const reckoned = reckonRounds(state.rounds, spec, settings);
	const { move, grows } = reckoned[reckoned.length - 1] as RoundReckoned;
	const shares = reckoned.map(({ move }) => (isMove(move) ? move.toleranceShare : null));
	const usedUp = state.rounds.length >= spec.rounds;
	if (!isMove(move)) return { outcome: usedUp ? 'beyond' : null, told: [{ key: 'moveRefused', params: {} }, ...move], move: null, shares };
	if ((move.toleranceShare ?? Infinity) <= 1) return { outcome: 'within', told: move.words.map(wordsTold), move, shares };
	const told: Told[] = grows ? [grows] : [];
	if (usedUp) return { outcome: 'beyond', told, move, shares };
	// a result that can't well be right is asked, and the move held back
	const words = move.questioned ? [move.questioned] : move.words;
	return { outcome: null, told: [...told, ...words.map(wordsTold)], move, shares };
}

interface RoundReckoned {
	/** The move, or why there is none. */
	readonly move: MoveTold | readonly Told[];
	readonly grows: Told | null;
}

/** The rounds one after another: a sign that has shown itself wrong is taken the other way from then on. */
function reckonRounds(rounds: readonly Taken[], spec: AdjustSpec, settings: MoveSettings): readonly RoundReckoned[] {
	const moved: MoveTold[] = [];
	let now = settings;
	return rounds.map((round): RoundReckoned => {
		const move = reckon(spec, round, now);
		if (!isMove(move)) return { move, grows: null };
		moved.push(move);
		const grows = growth(moved, settings.toleranceM ?? 0, spec.rounds);
		if (grows?.key !== 'wrongSign') return { move, grows };
		now = turned(now, move.move.axis);
		return { move: reckon(spec, round, now), grows };
	});
}

/** The same instrument with one axis's sign the other way; an untried one stays untried. */
function turned(settings: MoveSettings, axis: Axis): MoveSettings {
	const sign = settings.signs?.[axis];
	return sign === undefined ? settings : { ...settings, signs: { ...settings.signs, [axis]: sign > 0 ? -1 : 1 } };
}

const isMove = (found: MoveTold | readonly Told[]): found is MoveTold => !Array.isArray(found);
const wordsTold = ({ key, parameters }: Words): Told => ({ key, params: parameters });

function reckon(spec: AdjustSpec, round: Taken, settings: MoveSettings): MoveTold | readonly Told[] {
	if (!Object.hasOwn(moves, spec.move)) return [{ key: 'noSuchMove', params: { move: spec.move } }];
	const measured: Record<string, Measured> = {};
	for (const [input, reading] of Object.entries(spec.from)) {
		const taken = round[reading];
		const factor = taken && siFactor(taken.unit);
		if (!taken || factor === undefined) return [{ key: 'readingUnusable', params: { reading } }];
		const uncertainty = taken.uncertainty === null ? {} : { uncertainty: taken.uncertainty * factor };
		measured[input] = { value: taken.value * factor, ...uncertainty };
	}
	const result = moves[spec.move as MoveName].reckon(measured, settings);
	return result.refused === undefined ? result : result.refused.map(wordsTold);
}

/** The number setting of an edition, in degrees, by which a run fixes the angle between the columns. */
const COLUMN_ANGLE = 'column-angle';

/** The run's own column angle goes before the device's; the step's tolerance stands in the unit of its readings. */
function moveSettings({ settings, instrument }: RunState, step: Step, spec: AdjustSpec): MoveSettings {
	const angleDeg = settings[COLUMN_ANGLE];
	const factor = siFactor(step.readings[0]?.unit ?? '');
	return {
		...instrument,
		...(typeof angleDeg === 'number' ? { columnAngleRad: (angleDeg * Math.PI) / 180 } : {}),
		...(factor === undefined ? {} : { toleranceM: spec.tolerance * factor })
	};
}

const siFactor = (unit: string): number | undefined => unitFactor('length', unit) ?? unitFactor('angle', unit);

/** Tells a loop that grows, which means a wrong sign or a wrong axis; rounds that could not be reckoned are passed over. */
function growth(moved: readonly MoveTold[], toleranceM: number, allowedRounds: number): Told | null {
	if (!(toleranceM > 0)) return null;
	const rounds = moved.map(({ errorM, uncertaintyM, move }): Round => ({ errorM, uncertaintyM, correctsM: move.correctsM }));
	const loop = judgeRounds(rounds, { toleranceM, allowedRounds });
	if (loop.state !== 'grows') return null;
	const axis = moved[moved.length - 1]?.move.axis ?? '';
	return { key: loop.wrongSign ? 'wrongSign' : 'errorGrows', params: { round: loop.round, response: loop.response, axis } };
}
