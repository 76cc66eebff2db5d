import { calibrationOf, type CutDraft, type CuttingKept, planOf, usualLiftOut } from '$lib/metrology/keptCuts';
import { predictTimeS } from '$lib/metrology/calibration';
import { volumeM3 } from '$lib/metrology/plan';
import { figures, timeText } from '$lib/metrology/quantityText';
import { rateRow } from '$lib/metrology/rates';
import * as m from '$lib/paraglide/messages';
import { windowSourceText } from '$lib/session/rate-words';

/** What is said under a planned cut: its beam time, the interval that own cuts give, and its current density where it grows something. */
export function cutSentences(cut: CutDraft, kept: CuttingKept): readonly string[] {
	const plan = planOf({ ...kept, cuts: [cut] });
	const [timed] = plan.cuts;
	if (!timed) return [m.cuts_open()];
	return [m.cuts_time({ time: timeText(timed.beamS), spread: timeText(timed.uncertaintyS) }), ...intervalOf(cut, kept), ...densityOf(cut)];
}

function intervalOf(cut: CutDraft, { measured }: CuttingKept): readonly string[] {
	const own = calibrationOf(cut.material, measured);
	if (!own || cut.deep || cut.lengthM === null || cut.widthM === null || cut.depthM === null || cut.currentA === null) return [];
	const volume = volumeM3({ kind: cut.shape, lengthM: cut.lengthM, widthM: cut.widthM, depthM: cut.depthM });
	const { interval } = predictTimeS(own, volume, cut.currentA);
	return [m.cuts_interval({ low: timeText(interval.least), high: timeText(interval.most) })];
}

/** Only a deposit has a window of current density in which it grows. */
function densityOf({ material, lengthM, widthM, currentA }: CutDraft): readonly string[] {
	const window = rateRow(material)?.window;
	if (!window || lengthM === null || widthM === null || currentA === null) return [];
	const density = currentA / (lengthM * widthM);
	if (density >= window.least && density <= window.most) return [];
	const said = { density: figures(density), least: String(window.least), most: String(window.most), source: windowSourceText(material) };
	return [density > window.most ? m.cuts_density_high(said) : m.cuts_density_low(said)];
}

const usualNames: Readonly<Record<string, () => string>> = {
	'usual-1': m.cuts_usual_first_layer,
	'usual-2': m.cuts_usual_strap,
	'usual-3': m.cuts_usual_trench_front,
	'usual-4': m.cuts_usual_trench_behind,
	'usual-5': m.cuts_usual_faces,
	'usual-6': m.cuts_usual_undercut
};

/** The usual lift-out's cuts with their names, to begin a plan with. */
export const usualCuts = (): readonly CutDraft[] => usualLiftOut.map((cut) => ({ ...cut, name: usualNames[cut.id]?.() ?? cut.id }));
