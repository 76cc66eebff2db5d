/** The part of the library that is used here; it ships without types. */
declare module 'qrcode' {
	interface Code {
		readonly modules: { readonly size: number; get(row: number, column: number): number };
	}
	const library: { create(text: string, options: { errorCorrectionLevel: 'L' | 'M' | 'Q' | 'H' }): Code };
	export default library;
}
