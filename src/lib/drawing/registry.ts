import type { Component } from 'svelte';
import type { DrawingProps } from './drawing-props';
import type { Handle } from './handle';
import type { ParameterSpec, Values } from './parameters';

/** What the file of a drawing gives. */
export interface DrawingModule {
	readonly default: Component<DrawingProps>;
	readonly parameters: Readonly<Record<string, ParameterSpec>>;
	/** The same drawing in a sentence, for readers, speech and print. */
	readonly alt: (values: Values) => string;
	/** Points that can be moved to give a reading; absent where the drawing only shows. */
	readonly handles?: (props: DrawingProps) => readonly Handle[];
}

/** Drawings by the name that procedures use, each loaded when it is first shown. Later ones join here. */
export const drawings: Readonly<Record<string, () => Promise<DrawingModule>>> = {
	'two views': () => import('./TwoViews.svelte'),
	'jaws and shank': () => import('./JawsAndShank.svelte'),
	'holder with slots': () => import('./HolderSlots.svelte'),
	'post and lamella': () => import('./PostAndLamella.svelte'),
	'from the side': () => import('./SideView.svelte'),
	'cut or deposit': () => import('./CutShape.svelte')
};
