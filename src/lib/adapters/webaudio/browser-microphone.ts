import { type Microphone, MicrophoneFault } from '$lib/ports/microphone';
import captureUrl from './capture.worklet.ts?worker&url';

/** What the recogniser was trained on; a browser that gives another rate is resampled. */
const WANTED_HZ = 16000;

/** The browser's clean-up is made for calls: it eats short words and the guide's echo alike, so it is off. */
const RAW: MediaTrackConstraints = { echoCancellation: false, noiseSuppression: false, autoGainControl: false, channelCount: 1 };

async function stream(devices: MediaDevices | undefined): Promise<MediaStream> {
	if (!devices?.getUserMedia) throw new MicrophoneFault('missing', 'this page may not use a microphone: it needs https or localhost');
	try {
		return await devices.getUserMedia({ audio: RAW });
	} catch (fault) {
		const { name, message } = fault as DOMException;
		if (name === 'NotAllowedError' || name === 'SecurityError') throw new MicrophoneFault('denied', message);
		if (name === 'NotFoundError' || name === 'OverconstrainedError') throw new MicrophoneFault('missing', message);
		throw new MicrophoneFault('broken', message);
	}
}

/** The microphone through an audio worklet. */
export const browserMicrophone = (navigator: Navigator): Microphone => ({
	async open(take, lost) {
		const media = await stream(navigator.mediaDevices as MediaDevices | undefined);
		const context = new AudioContext({ sampleRate: WANTED_HZ });
		const close = () => {
			for (const track of media.getTracks()) track.stop();
			void context.close();
		};
		try {
			await context.audioWorklet.addModule(captureUrl);
			const capture = new AudioWorkletNode(context, 'capture', { numberOfInputs: 1, numberOfOutputs: 0 });
			capture.port.onmessage = ({ data }: MessageEvent<Float32Array>) => take(data);
			let open = true;
			const gone = () => {
				if (!open) return;
				open = false;
				close();
				lost();
			};
			capture.onprocessorerror = gone;
			for (const track of media.getAudioTracks()) track.onended = gone;
			context.createMediaStreamSource(media).connect(capture);
			await context.resume();
			return {
				sampleRate: context.sampleRate,
				close() {
					open = false;
					close();
				}
			};
		} catch (fault) {
			close();
			throw new MicrophoneFault('broken', (fault as Error).message);
		}
	}
});
