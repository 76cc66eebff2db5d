/** How a file leaves this device: kept as a download, shared, or put where text is pasted from. */
export interface HandingOver {
	download(name: string, bytes: BlobPart, type: string): void;
	/** Whether this device has a share sheet that takes files. */
	canShare(name: string, text: string, type: string): boolean;
	/** Resolves false where the person thought better of it. */
	share(name: string, text: string, type: string): Promise<boolean>;
	copy(text: string): Promise<void>;
	print(): void;
}
