/**
 * The head's shape: three layers over time, each seeing its own past only.
 * Layer 1 takes the last `SPAN` embeddings, layer 2 the last `HIDDEN_SPAN` outputs of layer 1, layer 3 gives one logit each word
 * and one for "no word".
 */
import { EMBEDDING_SIZE } from './features/embedding';

export const SPAN = 8;
export const HIDDEN = 192;
export const HIDDEN_SPAN = 3;

export interface LayerShape {
	/** Numbers in: oldest step first. */
	readonly depth: number;
	/** Numbers out; a multiple of 8. */
	readonly width: number;
}

/** Outputs of the last layer, filled up to a multiple of 8. */
export const outputWidth = (words: number): number => Math.ceil((words + 1) / 8) * 8;

export const headLayers = (words: number): readonly LayerShape[] => [
	{ depth: SPAN * EMBEDDING_SIZE, width: HIDDEN },
	{ depth: HIDDEN_SPAN * HIDDEN, width: HIDDEN },
	{ depth: HIDDEN, width: outputWidth(words) }
];

/** Numbers of all layers: for each its weights as [depth][width], then its biases. */
export const headNumbers = (words: number): number => headLayers(words).reduce((sum, { depth, width }) => sum + (depth + 1) * width, 0);
