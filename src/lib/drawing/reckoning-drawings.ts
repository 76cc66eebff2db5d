import CutShape from './CutShape.svelte';
import { cutAlt, cutHandles, cutShapeSpec } from './cut-shape';
import type { DrawingEntry } from './registry';
import SideView from './SideView.svelte';
import { sideViewAlt, sideViewHandles, sideViewSpec } from './side-view';

/** Drawings of the sums alone. They stand apart from the walk's, so that a walk need not load them. */
export const reckoningDrawings: Readonly<Record<string, DrawingEntry>> = {
	'from the side': { parameters: sideViewSpec, alt: sideViewAlt, component: SideView, handles: sideViewHandles },
	'cut or deposit': { parameters: cutShapeSpec, alt: cutAlt, component: CutShape, handles: cutHandles }
};
