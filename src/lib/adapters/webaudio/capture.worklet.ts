/** Runs on the audio thread: hands each block of the first channel to the page. */
declare const AudioWorkletProcessor: { new (): { readonly port: MessagePort } };
declare function registerProcessor(name: string, processor: unknown): void;

/** Blocks of 128 are put together to this many: 32 ms at 16 kHz, so that messages are few and waiting is short. */
const BLOCK = 512;

class Capture extends AudioWorkletProcessor {
	#block = new Float32Array(BLOCK);
	#filled = 0;

	process(inputs: Float32Array[][]): boolean {
		const channel = inputs[0]?.[0];
		if (!channel) return true;
		for (let at = 0; at < channel.length; ) {
			const count = Math.min(BLOCK - this.#filled, channel.length - at);
			this.#block.set(channel.subarray(at, at + count), this.#filled);
			this.#filled += count;
			at += count;
			if (this.#filled < BLOCK) continue;
			this.port.postMessage(this.#block, [this.#block.buffer]);
			this.#block = new Float32Array(BLOCK);
			this.#filled = 0;
		}
		return true;
	}
}

registerProcessor('capture', Capture);
