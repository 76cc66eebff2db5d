/** What the YAML reader found, in words of our own, with what was expected. Codes are those of package `yaml` 2. */
const sentences: Readonly<Record<string, string>> = {
	TAB_AS_INDENT: 'a tab indents this line; expected spaces',
	BAD_INDENT: 'the indentation does not fit the lines above; expected the same as its neighbours',
	MISSING_CHAR: 'a character is missing here; expected a closing quote or bracket, a comma or a colon',
	BLOCK_AS_IMPLICIT_KEY: 'a map begins in the middle of a line; expected quotes around a text that holds a colon',
	BLOCK_IN_FLOW: 'an indented block stands inside brackets; expected it on lines of its own',
	DUPLICATE_KEY: 'a key stands twice in the same map; expected each key once',
	MULTILINE_IMPLICIT_KEY: 'a key runs over several lines; expected it on one line, with a colon behind it',
	KEY_OVER_1024_CHARS: 'a key is longer than 1024 characters; expected a short name',
	UNEXPECTED_TOKEN: 'this does not belong here; expected a list, a map or a text (quote a text that begins with a sign)',
	BAD_SCALAR_START: 'a text cannot begin with this sign; expected quotes around it',
	BAD_ALIAS: 'an alias stands here; expected the text itself, or a fragment with "use"',
	MULTIPLE_ANCHORS: 'anchors stand here; expected a fragment instead',
	MULTIPLE_TAGS: 'tags stand here; expected plain text',
	TAG_RESOLVE_FAILED: 'a tag stands here; expected plain text, numbers, lists and maps',
	BAD_DIRECTIVE: 'a line begins with %; expected no directives',
	MISSING_ANCHOR: 'an alias stands here; expected the text itself'
};

export const yamlSentence = (code: string, message: string): string =>
	sentences[code] ?? `${(message.split('\n')[0] ?? '').replace(/ at line \d+, column \d+:?$/, '')}; expected well-formed YAML`;
