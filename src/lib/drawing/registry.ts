import type { Component } from 'svelte';
import HolderSlots from './HolderSlots.svelte';
import { slotsAlt, slotsSpec } from './holder-slots';
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
	readonly component: Component<DrawingProps>;
}

/** Drawings by the name that procedures use. Later ones join here. */
export const drawings: Readonly<Record<string, DrawingEntry>> = {
	'two views': { parameters: twoViewsSpec, alt: twoViewsAlt, component: TwoViews },
	'jaws and shank': { parameters: jawsSpec, alt: jawsAlt, component: JawsAndShank },
	'holder with slots': { parameters: slotsSpec, alt: slotsAlt, component: HolderSlots },
	'post and lamella': { parameters: lamellaSpec, alt: lamellaAlt, component: PostAndLamella }
};
