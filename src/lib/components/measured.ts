import type { Attachment } from 'svelte/attachments';

/** Width and letter size of an element, CSS px. */
export interface Measure {
	readonly widthPx: number;
	readonly letterPx: number;
}

/** Tells the element's width and font size now and whenever either changes. Where nothing can be measured, says nothing. */
export function measured(told: (measure: Measure) => void): Attachment<HTMLElement> {
	return (element) => {
		const tell = () => {
			const letterPx = parseFloat(getComputedStyle(element).fontSize);
			if (element.clientWidth > 0 && letterPx > 0) told({ widthPx: element.clientWidth, letterPx });
		};
		// an observer tells the first size too, before it is painted and after all is laid out: measuring now would lay out once more for each
		if (typeof ResizeObserver === 'undefined') return tell();
		const observer = new ResizeObserver(tell);
		observer.observe(element);
		return () => observer.disconnect();
	};
}
