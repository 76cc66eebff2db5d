import type { Edition } from '$lib/procedure/edition';
import { canonical, isCanonical } from './canonical';
import { sha256Hex } from './sha256';

/** Where the compiled edition begins in the canonical form of event 0. */
const PLACE = '"edition":{"body":';
/** Runs of one device are of a few editions; what is met with more is parsed again. */
const MOST = 8;

interface Known {
	/** Its canonical form, and what stands for it in a line. */
	readonly text: string;
	readonly mark: string;
	readonly body: Edition;
}

/**
 * Editions met while many journals are read. An edition is most of an event 0: the next run of the same one has it cut out of
 * its line before the line is parsed, and holds the same object, so that what was worked out for it serves all of its runs.
 */
export class SharedEditions {
	#known: readonly Known[] = [];

	/** What an event 0 says and whether its line is canonical. Throws SyntaxError where the line is no JSON. */
	parse(line: string): { readonly value: unknown; readonly canonical: boolean } {
		return this.#withoutKnown(line) ?? this.#whole(line);
	}

	/** Null where no known edition stands in the line, or not for certain where an edition belongs. */
	#withoutKnown(line: string): ReturnType<SharedEditions['parse']> | null {
		const from = line.indexOf(PLACE) + PLACE.length;
		const known = this.#known.find(({ text }) => line.startsWith(text, from));
		if (!known) return null;
		const short = `${line.slice(0, from)}"${known.mark}"${line.slice(from + known.text.length)}`;
		if (short.indexOf(known.mark) !== short.lastIndexOf(known.mark)) return null;
		const value: unknown = JSON.parse(short);
		const edition = editionIn(value);
		if (edition?.body !== known.mark) return null;
		const itself = isCanonical(short, value);
		edition.body = known.body;
		return { value, canonical: itself };
	}

	#whole(line: string): ReturnType<SharedEditions['parse']> {
		const value: unknown = JSON.parse(line);
		const itself = isCanonical(line, value);
		const body = editionIn(value)?.body;
		if (itself && typeof body === 'object' && body !== null) {
			const text = canonical(body);
			this.#known = [{ text, mark: `edition:${sha256Hex(text)}`, body: body as Edition }, ...this.#known].slice(0, MOST);
		}
		return { value, canonical: itself };
	}
}

function editionIn(value: unknown): { body?: unknown } | null {
	const edition = (value as { data?: { edition?: unknown } | null } | null)?.data?.edition;
	return typeof edition === 'object' ? edition : null;
}
