// Imports point one way. Names read as sentences; `comment` says why and what to do.
const pure = '^src/lib/(procedure|run|timing|metrology|record|voice|drawing|demo)/';
const tests = '\\.test\\.ts$';

/** @type {import('dependency-cruiser').IConfiguration} */
module.exports = {
	forbidden: [
		{
			name: 'pure-folders-import-nothing-outward',
			comment: 'Time, chance and devices come in as arguments or fields of events. Move the effect into an adapter.',
			severity: 'error',
			from: { path: '^src/lib/(procedure|run|timing|metrology|record|voice|demo)/', pathNot: tests },
			to: { path: '^src/(lib/(ports|adapters|session|components|server|drawing|paraglide)|routes|workers|cli)/', pathNot: '^src/lib/ports/' }
		},
		{
			name: 'ports-import-types-of-pure-folders-only',
			comment: 'A port is an interface: it knows no adapter and no screen.',
			severity: 'error',
			from: { path: '^src/lib/ports/' },
			to: { path: '^src/', pathNot: [pure, '^src/lib/ports/'] }
		},
		{
			name: 'adapters-know-ports-and-pure-only',
			comment: 'An adapter is put in by a route, a hook, a worker or the command line, never by another screen.',
			severity: 'error',
			from: { path: '^src/lib/adapters/', pathNot: tests },
			to: { path: '^src/(lib/(session|components|server)|routes|cli)/' }
		},
		{
			name: 'sessions-know-ports-and-pure-only',
			comment: 'Adapters are handed in, so that tests can hand in others.',
			severity: 'error',
			from: { path: '^src/lib/session/', pathNot: tests },
			to: { path: '^src/(lib/(adapters|components|server)|routes|cli)/' }
		},
		{
			name: 'components-do-no-input-or-output',
			comment: 'What is drawn takes props and gives callbacks.',
			severity: 'error',
			from: { path: '^src/lib/(components|drawing)/', pathNot: tests },
			to: { path: '^src/(lib/(adapters|server)|routes|cli)/' }
		},
		{
			name: 'the-walk-loads-no-schema-or-yaml',
			comment: 'The walk loads compiled editions; zod and yaml belong to the checker, the desk and the command line.',
			severity: 'error',
			from: { path: '^src/(lib/(run|session|components|adapters|drawing|timing|metrology|ports)|routes/(walk|start))/' },
			to: { path: 'node_modules/(zod|yaml|cmu-pronouncing-dictionary)/' }
		},
		{
			name: 'no-circles',
			comment: 'A circle means that two files are one thing or that a third is missing.',
			severity: 'error',
			from: { pathNot: '\\.svelte-kit|paraglide' },
			to: { circular: true, viaOnly: { pathNot: 'paraglide', dependencyTypesNot: ['type-only'] } }
		},
		{ name: 'every-import-resolves', comment: 'An import that is not followed would pass every rule.', severity: 'error', from: { path: '^src/' }, to: { couldNotResolve: true, pathNot: '^(\\./)?\\$(app|service-worker|env|types)' } }
	],
	options: {
		doNotFollow: { path: 'node_modules' },
		tsPreCompilationDeps: true,
		tsConfig: { fileName: 'tsconfig.json' },
		webpackConfig: { fileName: 'tests/config/alias.cjs' },
		exclude: { path: 'paraglide|\\.svelte-kit/' },
		enhancedResolveOptions: { extensions: ['.ts', '.svelte.ts', '.js', '.svelte', '.mjs', '.json'], exportsFields: ['exports'], conditionNames: ['svelte', 'import', 'default', 'types'] }
	}
};
