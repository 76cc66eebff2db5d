import type { HandingOver } from '$lib/ports/handing-over';

const fileOf = (name: string, text: string, type: string) => new File([text], name, { type });

export const browserHandingOver: HandingOver = {
	download(name, bytes, type) {
		const address = URL.createObjectURL(new Blob([bytes], { type }));
		const link = Object.assign(document.createElement('a'), { href: address, download: name });
		link.click();
		// the browser has taken the bytes by the next turn of its loop; a little later is safe everywhere
		setTimeout(() => URL.revokeObjectURL(address), 10_000);
	},
	canShare: (name, text, type) => navigator.canShare?.({ files: [fileOf(name, text, type)] }) ?? false,
	async share(name, text, type) {
		try {
			await navigator.share({ files: [fileOf(name, text, type)] });
			return true;
		} catch (fault) {
			if (fault instanceof DOMException && fault.name === 'AbortError') return false;
			throw fault;
		}
	},
	copy: (text) => navigator.clipboard.writeText(text),
	print: () => window.print()
};
