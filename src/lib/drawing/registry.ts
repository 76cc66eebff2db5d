import type { Component } from 'svelte';
import type { DrawingProps } from './drawing-props';
import type { Handle } from './handle';
import HolderSlots from './HolderSlots.svelte';
import { slotsAlt, slotsSpec } from './holder-slots';
import JawsAndShank from './JawsAndShank.svelte';
import { jawsAlt, jawsHandles, jawsSpec } from './jaws-and-shank';
import type { ParameterSpec, Values } from './parameters';
import PostAndLamella from './PostAndLamella.svelte';
import { lamellaAlt, lamellaSpec } from './post-and-lamella';
import TwoViews from './TwoViews.svelte';
import { twoViewsAlt, twoViewsHandles, twoViewsSpec } from './two-views';

export interface DrawingEntry {
	readonly parameters: Readonly<Record<string, ParameterSpec>>;
	/** The same drawing in a sentence, for readers, speech and print. */
	readonly alt: (values: Values) => string;
	readonly component: Component<DrawingProps>;
	/** Points that can be moved to give a reading; absent where the drawing only shows. */
	readonly handles?: (props: DrawingProps) => readonly Handle[];
}

/** Drawings by the name that procedures use. Later ones join here. */
export const drawings: Readonly<Record<string, DrawingEntry>> = {
	'two views': { parameters: twoViewsSpec, alt: twoViewsAlt, component: TwoViews, handles: twoViewsHandles },
	'jaws and shank': { parameters: jawsSpec, alt: jawsAlt, component: JawsAndShank, handles: jawsHandles },
	'holder with slots': { parameters: slotsSpec, alt: slotsAlt, component: HolderSlots },
	'post and lamella': { parameters: lamellaSpec, alt: lamellaAlt, component: PostAndLamella }
};
