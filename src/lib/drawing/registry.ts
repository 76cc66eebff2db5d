import type { Component } from 'svelte';
import HolderSlots from './HolderSlots.svelte';
import { slotsAlt, slotsFed, slotsSpec } from './holder-slots';
import JawsAndShank from './JawsAndShank.svelte';
import { jawsAlt, jawsSpec } from './jaws-and-shank';
import type { ParameterSpec, Values } from './parameters';
import PostAndLamella from './PostAndLamella.svelte';
import { lamellaAlt, lamellaSpec } from './post-and-lamella';
import TwoViews from './TwoViews.svelte';
import { twoViewsAlt, twoViewsSpec } from './two-views';

/** What every drawing is given: its values and the room it has, CSS px; `letterPx` is the font size of its words. */
export interface DrawingProps {
	readonly values: Values;
	readonly widthPx: number;
	readonly letterPx: number;
}

export interface DrawingEntry {
	readonly parameters: Readonly<Record<string, ParameterSpec>>;
	/** The same drawing in a sentence, for readers, speech and print. */
	readonly alt: (values: Values) => string;
	/** What the run itself gives, where the procedure says nothing: parameter → id of the part. */
	readonly fed: Readonly<Record<string, string>>;
	readonly component: Component<DrawingProps>;
}

/** Drawings by the name that procedures use. Later ones join here. */
export const drawings: Readonly<Record<string, DrawingEntry>> = {
	'two views': { parameters: twoViewsSpec, alt: twoViewsAlt, fed: {}, component: TwoViews },
	'jaws and shank': { parameters: jawsSpec, alt: jawsAlt, fed: {}, component: JawsAndShank },
	'holder with slots': { parameters: slotsSpec, alt: slotsAlt, fed: slotsFed, component: HolderSlots },
	'post and lamella': { parameters: lamellaSpec, alt: lamellaAlt, fed: { lamella: 'lamella', probe: 'probe', gas: 'gas-needle' }, component: PostAndLamella }
};
