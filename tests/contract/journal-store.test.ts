import 'fake-indexeddb/auto';
import { IDBFactory } from 'fake-indexeddb';
import { describe, it } from 'vitest';
import { databaseCopy, rotateLog } from '$lib/adapters/indexeddb/database-copy';
import { localLocks } from '$lib/adapters/locks/local-locks';
import { memoryStore } from '$lib/adapters/memory/memory-store';
import { fileCopy } from '$lib/adapters/opfs/file-copy';
import { localMarker } from '$lib/adapters/two-copies/marker';
import { TwoCopiesStore } from '$lib/adapters/two-copies/two-copies-store';
import type { JournalStore } from '$lib/ports/journal-store';
import { fakeFiles } from './fake-files';
import { fakeLine } from './fake-line';
import { journalStoreCases } from './journal-store';
import { sampleRun } from './sample-journal';

/** The same suite in a real browser: tests/e2e/journal-store.spec.ts. */
type Maker = () => () => Promise<JournalStore>;
const kinds: Record<string, { lasting: boolean; maker: Maker }> = {
	memory: {
		lasting: false,
		maker: () => {
			const store = memoryStore();
			return async () => store;
		}
	},
	'database alone': {
		lasting: true,
		maker: () => {
			const [factory, locks, marker] = [new IDBFactory(), localLocks(), localMarker()];
			return async () => new TwoCopiesStore({ database: databaseCopy(factory), file: null, locks, marker });
		}
	},
	'file alone': {
		lasting: true,
		maker: () => {
			const [files, locks, marker] = [fakeFiles(), localLocks(), localMarker()];
			return async () => {
				files.crash();
				return new TwoCopiesStore({ database: null, file: fileCopy(fakeLine(files.root)), locks, marker });
			};
		}
	},
	'database and file': {
		lasting: true,
		maker: () => {
			const [factory, files, locks, marker] = [new IDBFactory(), fakeFiles(), localLocks(), localMarker()];
			return async () => {
				files.crash();
				await rotateLog(factory);
				return new TwoCopiesStore({ database: databaseCopy(factory), file: fileCopy(fakeLine(files.root)), locks, marker });
			};
		}
	}
};

for (const [name, { lasting, maker }] of Object.entries(kinds))
	describe(`journal store: ${name}`, () => {
		journalStoreCases.forEach((one, i) => {
			if (one.lasting && !lasting) return;
			it(one.title, () => one.check(maker(), sampleRun(i + 1)));
		});
	});
