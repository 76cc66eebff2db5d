import { browserCamera, browserRecorder } from '$lib/adapters/camera/browser-camera';
import { browserChance } from '$lib/adapters/chance/browser-chance';
import { browserClock } from '$lib/adapters/clock/browser-clock';
import { workerInventedRuns } from '$lib/adapters/demo/worker-invented-runs';
import { createDeviceStore } from '$lib/adapters/device-store';
import { shippedEditions } from '$lib/adapters/editions/shipped-editions';
import { idbEnrolments } from '$lib/adapters/enrolments/idb-enrolments';
import { browserHandingOver } from '$lib/adapters/handing-over/browser-handing-over';
import { fileSystemLog } from '$lib/adapters/log-file/file-system-log';
import { browserKeys } from '$lib/adapters/keys/browser-keys';
import { ownEars } from '$lib/adapters/own-ears/own-ears';
import { ownTakes } from '$lib/adapters/own-ears/own-takes';
import { workerRecogniser } from '$lib/adapters/own-ears/worker-recogniser';
import { idbSettings } from '$lib/adapters/settings/idb-settings';
import { deviceSigner } from '$lib/adapters/signer/device-signer';
import { keyShelf } from '$lib/adapters/signer/key-shelf';
import { workerTimekeeper } from '$lib/adapters/timekeeper/worker-timekeeper';
import { verifyEd25519 } from '$lib/adapters/signer/verify-ed25519';
import { serviceWorkerUpdate } from '$lib/adapters/update/service-worker-update';
import { screenWakeLock } from '$lib/adapters/wakelock/screen-wake-lock';
import { browserMicrophone } from '$lib/adapters/webaudio/browser-microphone';
import { browserMouth } from '$lib/adapters/webaudio/browser-mouth';
import { type RecognitionClass, webSpeechEars } from '$lib/adapters/webspeech/web-speech-ears';
import * as m from '$lib/paraglide/messages';
import type { DevicePorts } from '$lib/session/device.svelte';

/** Puts the adapters of this browser in. The journal store comes first: it must open before anything else writes. */
export async function thisDevice(language: string): Promise<DevicePorts> {
	const { store, report } = await createDeviceStore();
	const scope = globalThis as typeof globalThis & { SpeechRecognition?: RecognitionClass };
	const settings = idbSettings();
	// a key that can't be kept would be another one at each start
	const keeps = report.copies.includes('database');
	return {
		store,
		report,
		signer: keeps ? await deviceSigner(keyShelf()) : null,
		signerOf: async (person) => (keeps ? deviceSigner(keyShelf(person)) : null),
		verify: verifyEd25519,
		clock: browserClock(browserChance),
		chance: browserChance,
		editions: shippedEditions,
		keys: browserKeys(window),
		mouth: browserMouth(window),
		camera: browserCamera,
		recorder: browserRecorder,
		wake: screenWakeLock(document),
		settings,
		update: serviceWorkerUpdate('/service-worker.js'),
		handingOver: browserHandingOver,
		logFile: fileSystemLog(window, settings, { suggestedName: m.log_file_suggested(), description: m.settings_log() }),
		inventedRuns: workerInventedRuns,
		timekeeper: workerTimekeeper,
		browserEars: webSpeechEars(scope, language),
		ownEars: ownEars(browserMicrophone(navigator), workerRecogniser),
		enrolments: idbEnrolments(),
		takes: ownTakes(browserMicrophone(navigator), workerRecogniser)
	};
}
