import { contentOf, type Section } from './content';
import type { Paper } from './exporting';
import { cssString, html, htmlTable } from './html-text';
import type { Proof } from './prove';
import { railSvg } from './rail-svg';
import type { ReadJournal } from './read-journal';
import { type Report, reportOf } from './report';
import { english } from './words/english';
import { type ExportWords, fill } from './words/export-words';

/**
 * A run as one HTML document to be printed: page x of y and the head hash on each page, the rail as vector, tables that go on over
 * pages with their headings. Headings, captions and row headings make the structure of a tagged PDF. The same journal gives the
 * same bytes. Throws RangeError where there is no event 0.
 */
export const toHtml = (journal: ReadJournal, proof: Proof | null, paper: Paper = 'A4', words: ExportWords = english): string => htmlOf(reportOf(journal), proof, paper, words);

/** The same of a report that is at hand. */
export function htmlOf(report: Report, proof: Proof | null, paper: Paper = 'A4', words: ExportWords = english): string {
	const title = fill(words.recordOf, { title: report.title });
	return [
		`<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n<title>${html(title)}</title>`,
		'<meta name="viewport" content="width=device-width, initial-scale=1">',
		`<style>${pageStyle(report, title, paper, words)}${style}</style>\n</head>\n<body>\n<main>`,
		recordBody(report, words, proof),
		'</main>\n</body>\n</html>\n'
	].join('\n');
}

/** What stands on the pages, also for a notebook that shows HTML. */
export function recordBody(report: Report, words: ExportWords, proof: Proof | null = null): string {
	const { title, warnings, facts, sections } = contentOf(report, words);
	return [
		`<h1>${html(title)}</h1>`,
		...warnings.map((warning) => `<p class="warning"><strong>${html(warning)}</strong></p>`),
		`<dl>\n${facts.map(([name, value]) => `<div><dt>${html(name)}</dt><dd>${html(value)}</dd></div>`).join('\n')}\n</dl>`,
		...(proof ? [`<p>${html(proofWords(proof, words))}</p>`] : []),
		`<figure>${railSvg(report, words.paper.railOf)}<figcaption>${html(words.paper.railOf)}: ${report.stages.map(({ title: stage }, i) => `${i + 1} ${html(stage)}`).join(', ')}</figcaption></figure>`,
		...sections.map((section) => `<section>\n<h2>${html(section.title)}</h2>\n${body(section) ?? `<p>${html(words.none)}</p>`}\n</section>`)
	].join('\n');
}

function body({ title, table, list }: Section): string | null {
	if (table) return htmlTable(html(title), table.header.map(html), table.rows.map((row) => row.map(html)));
	return list ? `<ul>\n${list.map((line) => `<li>${html(line)}</li>`).join('\n')}\n</ul>` : null;
}

function proofWords({ verdict, closings }: Proof, { paper }: ExportWords): string {
	const closed = verdict === 'signed' ? fill(paper.signed, { key: closings[closings.length - 1]?.key?.['x'] ?? '' }) : paper[verdict];
	const people = closings.flatMap(({ seq, countersigned }) => countersigned.filter(({ valid }) => valid).map(({ name, key }) => fill(paper.countersigned, { name, seq: seq - 1, key: key['x'] ?? '' })));
	return [closed, ...people].join(' ');
}

/** Margin boxes (CSS Paged Media 3, section 5); Chromium prints them from version 131 on. */
function pageStyle({ head }: Report, title: string, paper: Paper, words: ExportWords): string {
	const [before = '', between = '', after = ''] = words.paper.page.split(/\{pages?\}/);
	const pages = [cssString(before), 'counter(page)', cssString(between), 'counter(pages)', cssString(after)].join(' ');
	return [
		`@page{size:${paper};margin:20mm 16mm 22mm;`,
		`@top-left{content:${cssString(title)};font:8pt sans-serif}@top-right{content:${pages};font:8pt sans-serif}`,
		`@bottom-left{content:${cssString(fill(words.paper.head, { head }))};font:7pt monospace}}`
	].join('');
}

const style = `
:root{color-scheme:light}
body{font:10pt/1.4 sans-serif;color:#000;background:#fff;margin:0}
main{max-width:60rem;margin:0 auto;padding:1rem}
h1{font-size:16pt;margin:0 0 .5em}
h2{font-size:12pt;margin:1.2em 0 .4em;break-after:avoid}
dl{margin:0 0 1em}
dl div{display:grid;grid-template-columns:9em minmax(0,1fr);gap:1em}
dt{font-weight:bold}
dd{margin:0;overflow-wrap:anywhere}
.warning{border:2px solid #000;padding:.4em .8em}
figure{margin:1em 0;break-inside:avoid}
svg{width:100%;height:auto}
figcaption{font-size:9pt}
@media screen{.wide{overflow-x:auto}}
table{border-collapse:collapse;width:100%;font-size:9pt}
caption{position:absolute;clip-path:inset(50%);width:1px;height:1px;overflow:hidden;white-space:nowrap}
th,td{text-align:left;vertical-align:top;font-weight:normal;border-bottom:1px solid #999;padding:.2em .6em .2em 0;overflow-wrap:break-word}
th[scope=row]{white-space:nowrap}
thead th{font-weight:bold;border-bottom:2px solid #000}
thead{display:table-header-group}
tr,li{break-inside:avoid}
li,p{overflow-wrap:anywhere}
@media print{main{max-width:none;padding:0}}
`;
