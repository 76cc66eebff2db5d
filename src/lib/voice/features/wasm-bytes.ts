/** The few WebAssembly binary forms that the kernel needs. Source: WebAssembly Core Specification 2.0 (W3C), chapter 5. */

/** Unsigned LEB128 (section 5.2.2). */
export function unsigned(value: number): number[] {
	const bytes: number[] = [];
	let rest = value;
	do {
		const low = rest & 0x7f;
		rest >>>= 7;
		bytes.push(rest === 0 ? low : low | 0x80);
	} while (rest !== 0);
	return bytes;
}

/** Signed LEB128 (section 5.2.2). */
export function signed(value: number): number[] {
	const bytes: number[] = [];
	let rest = value;
	for (;;) {
		const low = rest & 0x7f;
		rest >>= 7;
		const done = (rest === 0 && (low & 0x40) === 0) || (rest === -1 && (low & 0x40) !== 0);
		bytes.push(done ? low : low | 0x80);
		if (done) return bytes;
	}
}

/** A section: its id, its length, its content (section 5.5.2). */
export function section(id: number, content: readonly number[]): number[] {
	return [id, ...unsigned(content.length), ...content];
}

/** A name: its length in bytes, then ASCII. */
export function ascii(text: string): number[] {
	return [...unsigned(text.length), ...Array.from(text, (letter) => letter.charCodeAt(0))];
}

export const I32 = 0x7f;
export const F32 = 0x7d;
export const V128 = 0x7b;

/** Instructions used, each as its bytes (section 5.4). Loads and stores are aligned to 4 bytes at most. */
export const op = {
	get: (local: number) => [0x20, ...unsigned(local)],
	set: (local: number) => [0x21, ...unsigned(local)],
	constant: (value: number) => [0x41, ...signed(value)],
	add: [0x6a],
	multiply: [0x6c],
	atMostSigned: [0x4c],
	lessSigned: [0x48],
	block: [0x02, 0x40],
	loop: [0x03, 0x40],
	end: [0x0b],
	branch: (depth: number) => [0x0c, depth],
	branchIf: (depth: number) => [0x0d, depth],
	not: [0x45],
	load: (offset: number) => [0xfd, ...unsigned(0), 2, ...unsigned(offset)],
	loadSplat: (offset: number) => [0xfd, ...unsigned(9), 2, ...unsigned(offset)],
	store: (offset: number) => [0xfd, ...unsigned(11), 2, ...unsigned(offset)],
	splat: [0xfd, ...unsigned(19)],
	addLanes: [0xfd, ...unsigned(228)],
	multiplyLanes: [0xfd, ...unsigned(230)],
	maxLanes: [0xfd, ...unsigned(233)]
} as const;
