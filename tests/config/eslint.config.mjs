import js from '@eslint/js';
import svelte from 'eslint-plugin-svelte';
import globals from 'globals';
import ts from 'typescript-eslint';
import svelteConfig from '../../svelte.config.js';

const ambient = (what, instead) => ({ message: `${what} is ambient: take ${instead} instead.` });
const noAmbient = {
	'no-restricted-globals': [
		'error',
		{ name: 'fetch', ...ambient('fetch', 'a port') },
		{ name: 'localStorage', ...ambient('localStorage', 'the settings store') },
		{ name: 'sessionStorage', ...ambient('sessionStorage', 'the settings store') },
		{ name: 'indexedDB', ...ambient('indexedDB', 'the JournalStore port') },
		{ name: 'setInterval', ...ambient('setInterval', 'the Clock port') },
		{ name: 'setTimeout', ...ambient('setTimeout', 'the Clock port') }
	],
	'no-restricted-properties': [
		'error',
		{ object: 'Date', property: 'now', ...ambient('Date.now', 'a stamp or the Clock port') },
		{ object: 'Math', property: 'random', ...ambient('Math.random', 'a seeded generator or the Chance port') },
		{ object: 'performance', property: 'now', ...ambient('performance.now', 'the Clock port') },
		{ object: 'crypto', property: 'randomUUID', ...ambient('crypto.randomUUID', 'the Chance port') }
	]
};

export default ts.config(
	{ ignores: ['build/', '.svelte-kit/', 'src/lib/paraglide/', 'static/', 'node_modules/', 'test-results/'] },
	js.configs.recommended,
	...ts.configs.recommended,
	...svelte.configs.recommended,
	{
		languageOptions: { globals: { ...globals.browser, ...globals.node, ...globals.serviceworker } },
		rules: {
			'no-undef': 'off',
			'@typescript-eslint/no-explicit-any': 'error',
			'@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_', varsIgnorePattern: '^_', ignoreRestSiblings: true }],
			'no-empty': ['error', { allowEmptyCatch: false }],
			'max-lines': ['error', { max: 400, skipBlankLines: true, skipComments: true }],
			'svelte/no-navigation-without-resolve': 'off'
		}
	},
	{
		files: ['**/*.svelte', '**/*.svelte.ts', '**/*.svelte.test.ts'],
		languageOptions: { parserOptions: { parser: ts.parser, extraFileExtensions: ['.svelte'], svelteConfig } }
	},
	{ files: ['src/lib/**/*.ts', 'src/lib/**/*.svelte'], ignores: ['src/lib/adapters/**', '**/*.test.ts'], rules: noAmbient }
);
