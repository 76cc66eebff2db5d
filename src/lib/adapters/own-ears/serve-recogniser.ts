import type { EnrolledWord } from '$lib/voice/enrolment';
import { createHearing, type Hearing } from './hearing';
import type { FromRecogniser, ToRecogniser } from './messages';

/** Answers the page's messages: the whole of the recogniser's worker, without the worker. `read` gives a file of the recogniser. */
export function serveRecogniser(read: (file: string) => Promise<Uint8Array>, post: (message: FromRecogniser) => void): (message: ToRecogniser) => void {
	let hearing: Hearing | null = null;
	let open: readonly string[] = [];
	let enrolled: readonly EnrolledWord[] = [];
	let only = false;
	/** One after another, so that the last one stays and answers come in the order of the questions. */
	let order = Promise.resolve();
	const enrol = () => {
		const [words, wanted] = [enrolled, only];
		order = order.then(async () => {
			if (hearing) post({ kind: 'enrolled', only: await hearing.enrol(words, wanted) });
		});
	};
	return (message) => {
		if (message.kind === 'load') {
			void createHearing(read, post).then(
				(made) => {
					hearing = made;
					hearing.open(open);
					void made.enrol(enrolled, only);
					post({ kind: 'ready', words: made.words, takesOf: made.takesOf });
				},
				(fault: Error) => post({ kind: 'unusable', message: fault.message })
			);
		} else if (message.kind === 'open') {
			open = message.words;
			hearing?.open(open);
		} else if (message.kind === 'enrol') {
			[enrolled, only] = [message.words, message.only];
			enrol();
		} else if (message.kind === 'voices') {
			void hearing?.voices().then((mark) => post({ kind: 'voices', mark }));
		} else if (message.kind === 'begin') hearing?.begin(message.sampleRate, message.takes ?? false);
		else hearing?.sound(message.samples);
	};
}
