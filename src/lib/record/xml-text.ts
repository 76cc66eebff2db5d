/** Text as it may stand in XML 1.0 content or an attribute: escaped, without what XML forbids (section 2.2). */
export const xml = (text: string): string => text.replace(forbidden, '').replace(/[&<>"'\t\n\r]/g, (one) => escaped[one]!);

// eslint-disable-next-line no-control-regex -- they are what is removed
const forbidden = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;
const escaped: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;', "'": '&#39;', '\t': '&#9;', '\n': '&#10;', '\r': '&#13;' };
