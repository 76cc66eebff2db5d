import { mergeConfig, type Plugin } from 'vite';
import app from './vite.config.ts';

/** Marks every message of the library with ⟦ ⟧: what a screen shows without the marks is hard-wired. */
const pseudoLanguage: Plugin = {
	name: 'pseudo-language',
	enforce: 'pre',
	transform(code, id) {
		if (!/paraglide[\\/]messages[\\/]\w+\.js$/.test(id)) return null;
		return code.replace(/\(`([^`]*)`\)/g, '(`⟦$1⟧`)');
	}
};

export default mergeConfig(app, { plugins: [pseudoLanguage] });
