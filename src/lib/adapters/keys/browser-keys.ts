import type { KeyPress, Keys } from '$lib/ports/keys';

/** Longer than this is a hold: long enough for a foot that rests, short enough to be found by chance. */
const HOLD_MS = 600;

/** Keyboard, foot pedal and clickers (all are keyboards to a browser) and a headset's media keys. */
export function browserKeys(target: Window): Keys {
	let pedal: string | null = null;
	let learning: ((key: string) => void) | null = null;

	return {
		setPedal: (key) => void (pedal = key),
		learn: (signal) =>
			new Promise((resolve, reject) => {
				learning = (key) => {
					learning = null;
					resolve(key);
				};
				signal.addEventListener('abort', () => {
					learning = null;
					reject(signal.reason);
				});
			}),
		listen(onPress) {
			let holding: ReturnType<typeof setTimeout> | null = null;
			const down = (event: KeyboardEvent) => {
				if (event.repeat && event.key === pedal) return event.preventDefault();
				if (event.repeat || event.ctrlKey || event.metaKey || event.altKey) return;
				if (learning) {
					event.preventDefault();
					return learning(event.key);
				}
				if (event.key === pedal) {
					event.preventDefault();
					holding = setTimeout(() => {
						holding = null;
						onPress({ key: event.key, kind: 'pedal hold' });
					}, HOLD_MS);
					return;
				}
				if (event.defaultPrevented || takesText(event.target) || pressesItself(event)) return;
				onPress({ key: event.key, kind: 'key' });
				if (scrolls.has(event.key)) event.preventDefault();
			};
			const up = (event: KeyboardEvent) => {
				if (event.key !== pedal || holding === null) return;
				clearTimeout(holding);
				holding = null;
				onPress({ key: event.key, kind: 'pedal press' });
			};
			target.addEventListener('keydown', down);
			target.addEventListener('keyup', up);
			const stopMedia = listenToMedia(target, onPress);
			return () => {
				if (holding !== null) clearTimeout(holding);
				target.removeEventListener('keydown', down);
				target.removeEventListener('keyup', up);
				stopMedia();
			};
		}
	};
}

const scrolls = new Set([' ', 'PageDown', 'PageUp', 'ArrowLeft', 'ArrowRight', 'Backspace']);

function takesText(target: EventTarget | null): boolean {
	return target instanceof HTMLElement && (target.isContentEditable || /^(INPUT|TEXTAREA|SELECT)$/.test(target.tagName));
}

/** A focused control answers Enter and the space bar itself. */
function pressesItself(event: KeyboardEvent): boolean {
	return (event.key === 'Enter' || event.key === ' ') && event.target instanceof Element && event.target.closest('button, a, summary, [role="option"]') !== null;
}

const mediaActions = { nexttrack: 'MediaTrackNext', previoustrack: 'MediaTrackPrevious', play: 'MediaPlayPause', pause: 'MediaPlayPause' } as const;

function listenToMedia(target: Window, onPress: (press: KeyPress) => void): () => void {
	const session = target.navigator.mediaSession;
	if (!session) return () => {};
	const actions = Object.keys(mediaActions) as (keyof typeof mediaActions)[];
	for (const action of actions) session.setActionHandler(action, () => onPress({ key: mediaActions[action], kind: 'key' }));
	return () => actions.forEach((action) => session.setActionHandler(action, null));
}
