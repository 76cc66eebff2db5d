/**
 * Bytes of a journal file as text, such that every byte counts: a byte order mark stays and breaks the first line, and what
 * is no UTF-8 becomes U+FFFD, which no hash fits.
 */
export const journalText = (bytes: Uint8Array): string => new TextDecoder('utf-8', { ignoreBOM: true }).decode(bytes);
