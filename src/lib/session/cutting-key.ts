/** Under which the plan of cuts is kept; apart, so that a walk without a plan loads nothing of it. */
export const CUTTING_KEY = 'cutting';
