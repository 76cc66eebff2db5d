/**
 * Verbs with which an instruction may begin, in the imperative. A plain list, because the checker needs to know verbs and
 * not grammar: a procedure in this trade uses a few dozen. Add what is missing.
 */
export const imperatives: ReadonlySet<string> = new Set(
	`accept add adjust advance agree aim align allow apply approach ask attach balance begin blow bring brush calibrate call carry
	centre change charge check choose clamp clean clear click clip close compare confirm connect continue correct count cover
	cut decide degas deposit detach discard disconnect do dock draw drive drop dry engage enter estimate exchange expose fasten fetch fill
	find fit fix flush focus follow free give glue go grip ground guide hand hang heat hold image insert inspect join keep
	label lay lead leave let level lift listen load lock log look loosen lower make mark measure melt mill mount move name note
	open orient pass pause pick place plan plug point polish position pour prepare press pull pump purge push put raise read
	rebalance record release remove repeat replace report request reset rest restore retract return rinse rotate save scan seal
	search seat secure select send separate set shake shift show shut slide sort speak spray stand start state stay step stop
	store strap strike support swing switch take tell test thaw thin tighten tilt touch trace transfer tune turn type unclip
	undercut undock unload unlock unscrew use vent verify wait warm wash watch wear weigh weld wipe withdraw write zero`
		.split(/\s+/)
);

const article = '(?:the|a|an|it|its|them|your|both|each|all|every)';
const joined = new RegExp(`\\b(?:and then|then|and)\\s+([a-z]+)\\s+${article}\\b`, 'gi');

export const startsWithImperative = (sentence: string): boolean => imperatives.has((/^[A-Za-z]+/.exec(sentence)?.[0] ?? '').toLowerCase());

/** Verbs of further actions in a sentence: "close the valve and open the lock" → ["open"]. */
export function furtherActions(sentence: string): string[] {
	const verbs = [...sentence.matchAll(joined)].map((match) => (match[1] ?? '').toLowerCase()).filter((verb) => imperatives.has(verb));
	const pair = /^([A-Za-z]+) and ([a-z]+)\s/.exec(sentence);
	const second = pair && imperatives.has((pair[1] ?? '').toLowerCase()) && imperatives.has(pair[2] ?? '') ? [pair[2] ?? ''] : [];
	return [...new Set([...second, ...verbs])];
}
