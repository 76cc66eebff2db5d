/**
 * The one arithmetic kernel of the ears: rows times weights plus bias, through a leaky rectifier.
 * Written out as WebAssembly with 128-bit lanes, because the same sums in plain JavaScript cost about eight times as much.
 */
import { ascii, F32, I32, op, section, unsigned, V128 } from './wasm-bytes';

/** Byte addresses and sizes of one call; every input row is read in `taps` runs of `depth` numbers. */
export interface Product {
	readonly input: number;
	readonly output: number;
	/** Packed by `packWeights`. */
	readonly weights: number;
	readonly bias: number;
	readonly rows: number;
	readonly inputStride: number;
	readonly outputStride: number;
	readonly taps: number;
	readonly tapStride: number;
	/** Numbers in a run; a multiple of 4. */
	readonly depth: number;
	/** Numbers in an output row; a multiple of 8. */
	readonly width: number;
	/** Slope below zero, and the least value let through: 1 and −Infinity leave the sums as they are. */
	readonly slope: number;
	readonly least: number;
}

export interface Kernel {
	readonly memory: WebAssembly.Memory;
	/** Reserves so many floats, zeroed, and returns their byte address. */
	reserve(floats: number): number;
	/** The floats at a byte address; taken anew after each `reserve`, which may move the memory. */
	view(address: number, floats: number): Float32Array;
	multiply(product: Product): void;
}

const PAGE_BYTES = 65536;
const ROWS_AT_ONCE = 4;
const STEP = 4;

// parameters, in the order of the call
const [INPUT, OUTPUT, WEIGHTS, BIAS, ROWS, IN_STRIDE, OUT_STRIDE, TAPS, TAP_STRIDE, DEPTH, WIDTH, SLOPE, LEAST] = [
	0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12
];
// 32-bit locals, then lanes
const [COLUMN, ROW, TAP, RUN_END, WEIGHT, FIRST] = [13, 14, 15, 16, 17, 18];
const at = (row: number) => 19 + row;
const W0 = 23;
const W1 = 24;
const sum = (row: number, half: number) => 25 + row * 2 + half;

/** `local = local + amount` */
const advance = (local: number, ...amount: (readonly number[])[]) => [...op.get(local), ...amount.flat(), ...op.add, ...op.set(local)];

function accumulate(rows: number): number[] {
	const code: number[] = [];
	for (let k = 0; k < STEP; k++) {
		code.push(...op.get(WEIGHT), ...op.load(k * 32), ...op.set(W0), ...op.get(WEIGHT), ...op.load(k * 32 + 16), ...op.set(W1));
		for (let row = 0; row < rows; row++) {
			for (const [half, weight] of [W0, W1].entries()) {
				code.push(...op.get(at(row)), ...op.loadSplat(k * 4), ...op.get(weight), ...op.multiplyLanes);
				code.push(...op.get(sum(row, half)), ...op.addLanes, ...op.set(sum(row, half)));
			}
		}
	}
	return code;
}

function finish(rows: number): number[] {
	const code: number[] = [];
	for (let row = 0; row < rows; row++) {
		code.push(...op.get(OUTPUT), ...op.get(ROW), ...op.constant(row), ...op.add, ...op.get(OUT_STRIDE), ...op.multiply, ...op.add);
		code.push(...op.get(COLUMN), ...op.constant(4), ...op.multiply, ...op.add, ...op.set(TAP));
		for (const half of [0, 1]) {
			code.push(...op.get(TAP), ...op.get(sum(row, half)), ...op.get(sum(row, half)), ...op.get(SLOPE), ...op.splat, ...op.multiplyLanes);
			code.push(...op.maxLanes, ...op.get(LEAST), ...op.splat, ...op.maxLanes, ...op.store(half * 16));
		}
	}
	return code;
}

/** Takes `rows` rows at a time while so many are left. */
function rowLoop(rows: number): number[] {
	const start: number[] = [...op.get(FIRST), ...op.set(WEIGHT)];
	for (let row = 0; row < rows; row++) {
		start.push(...op.get(INPUT), ...op.get(ROW), ...op.constant(row), ...op.add, ...op.get(IN_STRIDE), ...op.multiply, ...op.add, ...op.set(at(row)));
		for (const half of [0, 1]) {
			start.push(...op.get(BIAS), ...op.get(COLUMN), ...op.constant(4), ...op.multiply, ...op.add, ...op.load(half * 16), ...op.set(sum(row, half)));
		}
	}
	const move = (amount: readonly number[]) => Array.from({ length: rows }, (_, row) => advance(at(row), amount)).flat();
	const depthBytes = [...op.get(DEPTH), ...op.constant(4), ...op.multiply];
	return [
		...op.block, ...op.loop,
		...op.get(ROW), ...op.constant(rows), ...op.add, ...op.get(ROWS), ...op.atMostSigned, ...op.not, ...op.branchIf(1),
		...start,
		...op.constant(0), ...op.set(TAP),
		...op.loop,
		...op.get(at(0)), ...depthBytes, ...op.add, ...op.set(RUN_END),
		...op.loop,
		...accumulate(rows),
		...advance(WEIGHT, op.constant(STEP * 32)),
		...move(op.constant(STEP * 4)),
		...op.get(at(0)), ...op.get(RUN_END), ...op.lessSigned, ...op.branchIf(0),
		...op.end,
		// from the end of one run to the start of the next
		...move([...op.get(TAP_STRIDE), ...depthBytes, ...op.constant(-1), ...op.multiply, ...op.add]),
		...advance(TAP, op.constant(1)),
		...op.get(TAP), ...op.get(TAPS), ...op.lessSigned, ...op.branchIf(0),
		...op.end,
		...finish(rows),
		...advance(ROW, op.constant(rows)),
		...op.branch(0),
		...op.end, ...op.end
	];
}

function body(): number[] {
	return [
		...op.get(WEIGHTS), ...op.set(FIRST),
		...op.loop,
		...op.constant(0), ...op.set(ROW),
		...rowLoop(ROWS_AT_ONCE), ...rowLoop(2), ...rowLoop(1),
		...advance(FIRST, [...op.get(TAPS), ...op.get(DEPTH), ...op.multiply, ...op.constant(32), ...op.multiply]),
		...advance(COLUMN, op.constant(8)),
		...op.get(COLUMN), ...op.get(WIDTH), ...op.lessSigned, ...op.branchIf(0),
		...op.end,
		...op.end
	];
}

function moduleBytes(): Uint8Array<ArrayBuffer> {
	const parameters = [...Array<number>(11).fill(I32), F32, F32];
	const code = [2, 10, I32, 10, V128, ...body()];
	return Uint8Array.from([
		...[0x00, 0x61, 0x73, 0x6d, 0x01, 0x00, 0x00, 0x00],
		...section(1, [1, 0x60, ...unsigned(parameters.length), ...parameters, 0]),
		...section(2, [1, ...ascii('e'), ...ascii('m'), 2, 0, 1]),
		...section(3, [1, 0]),
		...section(7, [1, ...ascii('f'), 0, 0]),
		...section(10, [1, ...unsigned(code.length), ...code])
	]);
}

/**
 * Packs weights for `multiply`: from `at(column, k)` with k counting through all taps' runs, to blocks of 8 columns.
 * `depth` counts the numbers of all taps together.
 */
export function packWeights(width: number, depth: number, at: (column: number, k: number) => number): Float32Array {
	const packed = new Float32Array(width * depth);
	for (let block = 0; block < width; block += 8) {
		for (let k = 0; k < depth; k++) {
			for (let lane = 0; lane < 8; lane++) packed[block * depth + k * 8 + lane] = at(block + lane, k);
		}
	}
	return packed;
}

/** Makes a kernel with its own memory. Throws where WebAssembly with 128-bit lanes is missing. */
export function createKernel(): Kernel {
	const memory = new WebAssembly.Memory({ initial: 4 });
	const instance = new WebAssembly.Instance(new WebAssembly.Module(moduleBytes()), { e: { m: memory } });
	const run = instance.exports['f'] as (...numbers: number[]) => void;
	let used = 16;
	return {
		memory,
		reserve(floats) {
			const address = used;
			// 64 bytes to spare: the last step of a run may read past it, against zero weights
			used += Math.ceil((floats * 4 + 64) / 16) * 16;
			const missing = used - memory.buffer.byteLength;
			if (missing > 0) memory.grow(Math.ceil(missing / PAGE_BYTES));
			return address;
		},
		view: (address, floats) => new Float32Array(memory.buffer, address, floats),
		multiply(p) {
			run(p.input, p.output, p.weights, p.bias, p.rows, p.inputStride, p.outputStride, p.taps, p.tapStride, p.depth, p.width, p.slope, p.least);
		}
	};
}
