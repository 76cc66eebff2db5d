import canonicalize from 'canonicalize'; // RFC 8785 by its author's reference package: small, no dependencies

/**
 * RFC 8785 canonical JSON of a value. Throws RangeError on what the RFC's I-JSON base forbids and the package lets
 * pass: lone surrogates, integers beyond 2⁵³, NaN and infinities, undefined at the top.
 */
export function canonical(value: unknown): string {
	const refusal = refusalOf(value);
	if (refusal) throw new RangeError(`canonical JSON: ${refusal.what} at $${refusal.path}`);
	const text = canonicalize(value);
	if (text === undefined) throw new RangeError('canonical JSON: nothing to write at $');
	return text;
}

/**
 * Whether a text is the canonical form of the value that it was parsed into. The common case costs no second serialiser:
 * RFC 8785 section 3.2.2 takes its primitives from ECMAScript's JSON.stringify, which keeps the order of parsed names, so
 * a text that comes back unchanged and whose names are sorted is canonical. Names that look like array indices are moved by
 * JSON.parse; those, and all else that does not come back, go the long way.
 */
export function isCanonical(text: string, parsed: unknown): boolean {
	if (JSON.stringify(parsed) === text && sorted(parsed)) return refusalOf(parsed) === null;
	try {
		return canonical(parsed) === text;
	} catch (fault) {
		if (fault instanceof RangeError) return false;
		throw fault;
	}
}

/** Names in the order of RFC 8785 section 3.2.3 (UTF-16 code units, as `<` compares), all the way down. */
function sorted(value: unknown): boolean {
	if (typeof value !== 'object' || value === null) return true;
	if (Array.isArray(value)) return value.every(sorted);
	let before: string | undefined;
	for (const name in value) {
		if (before !== undefined && !(before < name)) return false;
		if (!sorted((value as Record<string, unknown>)[name])) return false;
		before = name;
	}
	return true;
}

const loneSurrogate = /[\uD800-\uDBFF](?![\uDC00-\uDFFF])|(?<![\uD800-\uDBFF])[\uDC00-\uDFFF]/;
const anySurrogate = /[\uD800-\uDFFF]/;

interface Refusal {
	readonly what: string;
	readonly path: string;
}

/** The path is put together on the way out only: most values are fine, and every event is looked at. */
function refusalOf(value: unknown): Refusal | null {
	if (typeof value === 'string') return anySurrogate.test(value) && loneSurrogate.test(value) ? { what: 'lone surrogate', path: '' } : null;
	if (typeof value === 'number') {
		if (!Number.isFinite(value)) return { what: `${value}, expected a finite number,`, path: '' };
		return Number.isInteger(value) && !Number.isSafeInteger(value) ? { what: 'integer beyond 2^53', path: '' } : null;
	}
	if (typeof value !== 'object' || value === null) return null;
	if (Array.isArray(value)) {
		for (let i = 0; i < value.length; i++) {
			const refusal = refusalOf(value[i]);
			if (refusal) return { ...refusal, path: `[${i}]${refusal.path}` };
		}
		return null;
	}
	for (const name in value) {
		const refusal = refusalOf(name) ?? refusalOf((value as Record<string, unknown>)[name]);
		if (refusal) return { ...refusal, path: `.${name}${refusal.path}` };
	}
	return null;
}
