import type { LogFile } from '$lib/ports/log-file';
import type { SettingsStore } from '$lib/ports/settings';

/** What the File System Access API has beyond the standard's file handles, which TypeScript's library lacks. */
interface PickedHandle extends FileSystemFileHandle {
	queryPermission?(descriptor: { mode: 'readwrite' }): Promise<PermissionState>;
	requestPermission?(descriptor: { mode: 'readwrite' }): Promise<PermissionState>;
}
type PickFile = (options: { suggestedName: string; types: { description: string; accept: Record<string, string[]> }[] }) => Promise<PickedHandle>;

const KEY = 'log file';

/** A file picked with the File System Access API; its handle is kept among the settings. Null where the browser has no such API. */
export function fileSystemLog(target: Window, settings: SettingsStore, words: { suggestedName: string; description: string }): LogFile | null {
	const pickFile = (target as Window & { showSaveFilePicker?: PickFile }).showSaveFilePicker;
	if (!pickFile) return null;
	const load = () => settings.load<PickedHandle>(KEY);

	return {
		kept: async () => (await load())?.name ?? null,
		async pick() {
			try {
				const handle = await pickFile.call(target, { suggestedName: words.suggestedName, types: [{ description: words.description, accept: { 'text/markdown': ['.md'] } }] });
				await settings.save(KEY, handle);
				return handle.name;
			} catch (thrown) {
				if (thrown instanceof DOMException && thrown.name === 'AbortError') return null;
				throw thrown;
			}
		},
		async append(text, mark) {
			const handle = await load();
			if (!handle) throw new Error('no log file was picked');
			const asked = { mode: 'readwrite' } as const;
			const allowed = (await handle.queryPermission?.(asked)) ?? 'granted';
			if (allowed !== 'granted' && (await handle.requestPermission?.(asked)) !== 'granted') throw new Error(`writing to ${handle.name} was not allowed`);
			const before = await handle.getFile();
			const stands = await before.text();
			if (stands.includes(mark)) return false;
			const writable = await handle.createWritable({ keepExistingData: true });
			const gap = stands === '' || stands.endsWith('\n\n') ? '' : stands.endsWith('\n') ? '\n' : '\n\n';
			await writable.write({ type: 'write', position: before.size, data: gap + text });
			await writable.close();
			return true;
		},
		forget: () => settings.save(KEY, undefined)
	};
}
