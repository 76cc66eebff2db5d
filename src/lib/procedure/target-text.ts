/** Where an author says that the walk goes on, before names are looked up. */
export type TargetText =
	| { readonly to: 'next' | 'next stage' | 'leave' | 'repeat' | 'back' | 'complete' | 'safe end' }
	| { readonly to: 'step' | 'earlier step' | 'back to' | 'trouble'; readonly name: string };

const bare = new Set(['next', 'next stage', 'leave', 'repeat', 'back', 'complete', 'safe end']);
const named: readonly (readonly [RegExp, 'step' | 'earlier step' | 'back to' | 'trouble'])[] = [
	[/^go to\s+(.+)$/i, 'step'],
	[/^repeat\s+(.+)$/i, 'earlier step'],
	[/^back to\s+(.+)$/i, 'back to'],
	[/^trouble\s+(.+)$/i, 'trouble']
];

/** Null where the text is no target. Quotes around a name may be left out. */
export function readTarget(text: string): TargetText | null {
	const trimmed = text.trim();
	const lower = trimmed.toLowerCase();
	if (bare.has(lower)) return { to: lower as 'next' };
	for (const [pattern, to] of named) {
		const name = pattern.exec(trimmed)?.[1]?.replace(/^["“'](.*)["”']$/, '$1').trim();
		if (name) return { to, name };
	}
	return null;
}

export const targetForms = 'next, next stage, leave, repeat, repeat "Title", go to "Title", trouble NAME, back, back to "Title", complete or safe end';
