import { contentOf, type Section } from './content';
import { plain, table } from './markdown-text';
import type { ReadJournal } from './read-journal';
import { type Report, reportOf } from './report';
import { english } from './words/english';
import type { ExportWords } from './words/export-words';

/**
 * A run as Markdown, made to be pasted into a session log: one header block, stages, readings, troubles, notes, changes,
 * steps, cautions. The same journal gives the same bytes. Throws RangeError where there is no event 0.
 */
export const toMarkdown = (journal: ReadJournal, words: ExportWords = english): string => markdownOf(reportOf(journal), words);

/** The same of a report that is at hand. */
export function markdownOf(report: Report, words: ExportWords = english): string {
	const { title, warnings, facts, sections } = contentOf(report, words);
	const parts = [
		`## ${plain(title)}`,
		...warnings.map((warning) => `> ${plain(warning)}`),
		facts.map(([name, value]) => `- **${name}:** ${plain(value)}`).join('\n'),
		...sections.map((section) => `### ${section.title}\n\n${body(section) ?? words.none}`)
	];
	return parts.join('\n\n') + '\n';
}

function body({ table: rows, list }: Section): string | null {
	if (rows) return table(rows.header, rows.rows.map((row) => row.map(plain)));
	return list ? list.map((line) => `- ${plain(line)}`).join('\n') : null;
}
