/** Reads the named weight tensors out of an ONNX file. Source of the field numbers: onnx/onnx.proto (ONNX 1.8, Apache-2.0). */

export interface Tensor {
	readonly name: string;
	readonly shape: readonly number[];
	readonly values: Float32Array;
}

const MODEL_GRAPH = 7;
const GRAPH_INITIALIZER = 5;
const TENSOR = { dims: 1, dataType: 2, floats: 4, name: 8, raw: 9 };
const FLOAT = 1;

interface Field {
	readonly number: number;
	readonly value: number;
	readonly bytes: Uint8Array;
}

/** Walks one protobuf message: varints as `value`, length-delimited fields as `bytes`. */
function* fields(message: Uint8Array): Generator<Field> {
	let at = 0;
	const varint = () => {
		let [value, scale] = [0, 1];
		for (;;) {
			const byte = message[at++];
			if (byte === undefined) throw new Error('ONNX file ends within a number');
			value += (byte & 0x7f) * scale;
			if (byte < 0x80) return value;
			scale *= 128;
		}
	};
	const none = new Uint8Array(0);
	while (at < message.length) {
		const key = varint();
		const [number, wire] = [Math.floor(key / 8), key % 8];
		if (wire === 0) yield { number, value: varint(), bytes: none };
		else {
			const length = wire === 2 ? varint() : wire === 5 ? 4 : 8;
			yield { number, value: 0, bytes: message.subarray(at, at + length) };
			at += length;
		}
	}
}

function tensor(message: Uint8Array): Tensor | undefined {
	let [name, type] = ['', 0];
	const shape: number[] = [];
	let raw: Uint8Array | undefined;
	for (const field of fields(message)) {
		if (field.number === TENSOR.name) name = new TextDecoder().decode(field.bytes);
		if (field.number === TENSOR.dataType) type = field.value;
		if (field.number === TENSOR.raw || field.number === TENSOR.floats) raw = field.bytes;
		if (field.number === TENSOR.dims) {
			if (field.bytes.length === 0) shape.push(field.value);
			else shape.push(...Array.from(fields(Uint8Array.of(8, ...field.bytes)), (dim) => dim.value));
		}
	}
	if (type !== FLOAT || !raw) return undefined;
	return { name, shape, values: new Float32Array(new Uint8Array(raw).buffer) };
}

/** All float tensors of the model's graph, by name. */
export function readTensors(file: Uint8Array): Map<string, Tensor> {
	const found = new Map<string, Tensor>();
	for (const part of fields(file)) {
		if (part.number !== MODEL_GRAPH) continue;
		for (const item of fields(part.bytes)) {
			const one = item.number === GRAPH_INITIALIZER ? tensor(item.bytes) : undefined;
			if (one) found.set(one.name, one);
		}
	}
	return found;
}
