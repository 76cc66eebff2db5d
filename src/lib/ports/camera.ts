/** Still pictures from the device's camera. */
export interface Camera {
	available(): boolean;
	/** Opens the camera's live picture into a video element; call `close` when done. Throws DOMException as getUserMedia does. */
	open(view: HTMLVideoElement): Promise<OpenCamera>;
}
export interface OpenCamera {
	/** JPEG bytes of what is seen now. */
	take(): Promise<Uint8Array>;
	close(): void;
}

/** Short spoken notes. */
export interface Recorder {
	available(): boolean;
	/** Records until `stop`; never longer than `limitMs`. */
	start(limitMs: number): Promise<OpenRecording>;
}
export interface OpenRecording {
	/** Bytes and media type. */
	stop(): Promise<{ bytes: Uint8Array; type: string }>;
	cancel(): void;
}
