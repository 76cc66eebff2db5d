import type { Standing, Tip } from '$lib/metrology/ledger';
import * as m from '$lib/paraglide/messages';
import type { Edition } from '$lib/procedure/edition';
import { named } from './named';

/** The ledger's own words. */

const tipStates: Readonly<Record<Tip['now'], () => string>> = {
	'in slot': m.parts_tip_in_slot,
	'on probe': m.parts_tip_on_probe,
	worn: m.parts_tip_worn,
	'taken out': m.parts_tip_taken_out,
	lost: m.parts_tip_lost,
	unknown: m.parts_tip_unknown
};
const knowledge: Readonly<Record<Standing['known'], () => string>> = {
	'by step': m.parts_known_by_step,
	stated: m.parts_known_stated,
	seen: m.parts_known_seen,
	'carried over': m.parts_known_carried_over
};

export const tipStateText = (now: Tip['now']): string => tipStates[now]();
export const knownText = (known: Standing['known']): string => knowledge[known]();

/** "2 Mar 2026, 13:05" of a stamp, in this device's zone. */
export const momentText = (at: string): string => new Date(at).toLocaleString('en-GB', { dateStyle: 'medium', timeStyle: 'short' });

/** Why a tip was retired: the answer's own words where the edition has the step, else that none was given. */
export function retiredText({ retired }: Tip, edition: Edition): string {
	if (!retired) return '';
	const outcome = retired.step === null ? undefined : edition.steps[retired.step]?.outcomes.find(({ id }) => id === retired.answer);
	const answer = outcome ? named(edition, 'en').answer(outcome) : (retired.answer ?? m.parts_tip_no_answer());
	return m.parts_tip_retired_at({ answer, when: momentText(retired.at), who: retired.by });
}

/** A post by its condition's name, or by its number where it was read. */
export const postText = (post: string, edition: Edition): string =>
	edition.parts.some(({ id }) => id === 'post') ? named(edition, 'en').condition('post', post) : m.parts_post_number({ number: post });
