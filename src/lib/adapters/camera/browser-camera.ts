import type { Camera, Recorder } from '$lib/ports/camera';

const stopAll = (stream: MediaStream) => stream.getTracks().forEach((track) => track.stop());

export const browserCamera: Camera = {
	available: () => navigator.mediaDevices !== undefined,
	async open(view) {
		const stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: 'environment', width: { ideal: 1920 } } });
		view.srcObject = stream;
		await view.play();
		return {
			async take() {
				const canvas = new OffscreenCanvas(view.videoWidth, view.videoHeight);
				canvas.getContext('2d')?.drawImage(view, 0, 0);
				const blob = await canvas.convertToBlob({ type: 'image/jpeg', quality: 0.88 });
				return new Uint8Array(await blob.arrayBuffer());
			},
			close() {
				stopAll(stream);
				view.srcObject = null;
			}
		};
	}
};

export const browserRecorder: Recorder = {
	available: () => navigator.mediaDevices !== undefined && typeof MediaRecorder !== 'undefined',
	async start(limitMs) {
		const stream = await navigator.mediaDevices.getUserMedia({ audio: true });
		const recorder = new MediaRecorder(stream);
		const pieces: Blob[] = [];
		recorder.ondataavailable = ({ data }) => pieces.push(data);
		const ended = new Promise<void>((resolve) => recorder.addEventListener('stop', () => resolve()));
		const limit = setTimeout(() => recorder.state === 'recording' && recorder.stop(), limitMs);
		recorder.start();
		const end = () => {
			clearTimeout(limit);
			if (recorder.state !== 'inactive') recorder.stop();
			stopAll(stream);
		};
		return {
			async stop() {
				end();
				await ended;
				const blob = new Blob(pieces, { type: recorder.mimeType });
				return { bytes: new Uint8Array(await blob.arrayBuffer()), type: recorder.mimeType.split(';')[0] ?? 'audio/webm' };
			},
			cancel: end
		};
	}
};
