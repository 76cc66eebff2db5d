/** A text as a Python string literal: JSON's escapes are Python's too, and all but ASCII is escaped. */
export const pythonString = (text: string): string => JSON.stringify(text).replace(/[\u007f-\uffff]/g, (one) => `\\u${one.charCodeAt(0).toString(16).padStart(4, '0')}`);

/** Any JSON value as a Python expression that reads it; surrogates stand twice escaped, so that Python's json joins them. */
export const pythonJson = (value: unknown): string => `json.loads(${pythonString(JSON.stringify(value).replace(/[\u007f-\uffff]/g, (one) => `\\u${one.charCodeAt(0).toString(16).padStart(4, '0')}`))})`;
