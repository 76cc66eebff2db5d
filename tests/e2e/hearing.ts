import { expect, type Page } from '@playwright/test';
import { browserFlags, systemBrowser } from '../crash/browser';

/** How a browser is launched whose microphone plays `recording` once from its opening; without one it beeps. */
export function withMicrophone(recording?: string) {
	const executablePath = systemBrowser();
	const played = recording ? [`--use-file-for-fake-audio-capture=${recording}%noloop`] : [];
	return { ...(executablePath ? { executablePath } : {}), args: [...browserFlags, '--use-fake-device-for-media-stream', '--use-fake-ui-for-media-stream', ...played] };
}

export async function listenWithOwnEars(page: Page): Promise<void> {
	await page.goto('/settings');
	await page.getByRole('radio', { name: 'Handrail’s own' }).check({ force: true });
	await expect(page.getByRole('radio', { name: 'Handrail’s own' })).toBeChecked();
}

type Hears = typeof globalThis & { hears?: (words: string) => void };

/** The browser's own engine, by a fake of the W3C interface: headless browsers have none on the device, and what is said is known to the letter. */
export async function listenByBrowser(page: Page): Promise<void> {
	await page.addInitScript(() => {
		class FakeRecognition extends EventTarget {
			static available = () => Promise.resolve('available');
			onresult: ((event: object) => void) | null = null;
			onend: (() => void) | null = null;
			start() {
				(globalThis as Hears).hears = (transcript) => this.onresult?.({ resultIndex: 0, results: [Object.assign([{ transcript, confidence: 0.95 }], { isFinal: true })] });
			}
			abort() {
				(globalThis as Hears).hears = () => undefined;
				this.onend?.();
			}
		}
		Object.assign(globalThis, { SpeechRecognition: FakeRecognition });
	});
	await page.goto('/settings');
	await page.getByRole('radio', { name: 'The browser’s own, on this device' }).check({ force: true });
}

/** Says words to the engine of `listenByBrowser`. */
export const say = (page: Page, words: string): Promise<void> => page.evaluate((said) => (globalThis as Hears).hears?.(said), words);
