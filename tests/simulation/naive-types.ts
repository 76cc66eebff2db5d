import type { Place } from './naive-walker';
import type { World } from './bad-ends';

export type { Condition, Edition, Outcome, Route, Step, Target, Trouble } from '$lib/procedure/edition';

/** What a move comes to: another place, an end, or something that must not be. */
export type Settled = Place | { readonly end: 'complete' | 'safe'; readonly world: World; readonly belief: World } | { readonly bad: string };
