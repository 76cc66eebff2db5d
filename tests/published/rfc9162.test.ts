import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { inclusionPath, isIncluded, merkleRoot } from '$lib/record/merkle';

/**
 * RFC 9162 (B. Laurie, E. Messeri, R. Stradling, Certificate Transparency Version 2.0, December 2021), section 2.1. Hashes are exact.
 * The leaves and roots are those of the reference test of Certificate Transparency (google/certificate-transparency,
 * merkletree tests; the same tree hash as RFC 6962), from memory; the tree of section 2.1.5's example is spelt out below.
 */
const hex = (text: string) => Uint8Array.from(Buffer.from(text, 'hex'));
const leaves = ['', '00', '10', '2021', '3031', '40414243', '5051525354555657', '606162636465666768696a6b6c6d6e6f'].map(hex);
const roots = [
	'6e340b9cffb37a989ca544e6bb780a2c78901d3fb33738768511a30617afa01d',
	'fac54203e7cc696cf0dfcb42c92a1d9dbaf70ad9e621f4bd8d98662f00e3c125',
	'aeb6bcfe274b70a14fb067a5e5578264db0fa9b51af5e0ba159158f329e06e77',
	'd37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7',
	'4e3bbb1f7b478dcfe71fb631631519a3bca12c9aefca1612bfce4c13a86264d4',
	'76e67dadbcdf1e10e1b74ddc608abd2f98dfb16fbce75277b5232a127f2087ef',
	'ddb89be403809e325750d3d263cd78929c2942b7942a34b77e122c9594a74c8c',
	'5dc9da79a70659a9ad559cb701ded9a2ab9d823aad2f4960cfe370eff4604328'
];

describe('section 2.1.1, tree hash', () => {
	it('of nothing is SHA-256 of nothing', () => expect(merkleRoot([])).toBe('e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855'));
	it.each(roots.map((root, i) => [i + 1, root] as const))('of %d leaves', (n, root) => expect(merkleRoot(leaves.slice(0, n))).toBe(root));
});

describe('section 2.1.3, inclusion', () => {
	const h = (...parts: Buffer[]) => createHash('sha256').update(Buffer.concat(parts)).digest();
	const leaf = (i: number) => h(Buffer.from([0]), Buffer.from(leaves[i]!));
	const node = (a: Buffer, b: Buffer) => h(Buffer.from([1]), a, b);
	// section 2.1.5: seven leaves d0..d6; a..f leaf hashes and j = d6's, g = (a,b), h = (c,d), i = (e,f), k = (g,h), l = (i,j)
	const [a, b, c, d, e, f, j] = [0, 1, 2, 3, 4, 5, 6].map(leaf) as [Buffer, Buffer, Buffer, Buffer, Buffer, Buffer, Buffer];
	const [g, hh, i] = [node(a, b), node(c, d), node(e, f)];
	const [k, l] = [node(g, hh), node(i, j)];
	const seven = leaves.slice(0, 7);
	it.each([
		[0, [b, hh, l]],
		[3, [c, g, l]],
		[4, [f, j, k]],
		[6, [i, k]]
	] as [number, Buffer[]][])('section 2.1.5: the path of d%d', (index, path) => expect(inclusionPath(seven, index)).toEqual(path.map((hash) => hash.toString('hex'))));
	it('every leaf of trees of 1 to 40 leaves is proved, and at no other place', () => {
		for (let n = 1; n <= 40; n++) {
			const all = Array.from({ length: n }, (_, at) => `leaf ${at}`);
			const root = merkleRoot(all);
			for (let at = 0; at < n; at++) {
				const path = inclusionPath(all, at);
				expect(isIncluded(all[at]!, at, n, path, root)).toBe(true);
				expect(isIncluded(all[at]!, (at + 1) % n, n, path, root)).toBe(n === 1);
				expect(isIncluded('other', at, n, path, root)).toBe(false);
				if (path.length) expect(isIncluded(all[at]!, at, n, path.slice(0, -1), root)).toBe(false);
				expect(isIncluded(all[at]!, at, n, [...path, root], root)).toBe(false);
			}
		}
	});
	it('a leaf that is not there has no path', () => expect(() => inclusionPath(seven, 7)).toThrow('expected 0 to 6'));
});
