import canonicalize from 'canonicalize'; // RFC 8785 by its author's reference package: small, no dependencies

/**
 * RFC 8785 canonical JSON of a value. Throws RangeError on what the RFC's I-JSON base forbids and the package lets
 * pass: lone surrogates, integers beyond 2⁵³, NaN and infinities, undefined at the top.
 */
export function canonical(value: unknown): string {
	refuse(value, '$');
	const text = canonicalize(value);
	if (text === undefined) throw new RangeError('canonical JSON: nothing to write at $');
	return text;
}

const loneSurrogate = /[\uD800-\uDBFF](?![\uDC00-\uDFFF])|(?<![\uD800-\uDBFF])[\uDC00-\uDFFF]/;

function refuse(value: unknown, where: string): void {
	if (typeof value === 'string') {
		if (loneSurrogate.test(value)) throw new RangeError(`canonical JSON: lone surrogate at ${where}`);
	} else if (typeof value === 'number') {
		if (!Number.isFinite(value)) throw new RangeError(`canonical JSON: ${value} at ${where}; expected a finite number`);
		if (Number.isInteger(value) && !Number.isSafeInteger(value))
			throw new RangeError(`canonical JSON: integer beyond 2^53 at ${where}`);
	} else if (Array.isArray(value)) value.forEach((item, i) => refuse(item, `${where}[${i}]`));
	else if (value !== null && typeof value === 'object')
		for (const [key, item] of Object.entries(value)) {
			refuse(key, where);
			refuse(item, `${where}.${key}`);
		}
}
