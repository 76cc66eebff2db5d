import { canonical } from './canonical';
import { sha256Hex } from './chain';
import { plain } from './markdown-text';
import { pythonJson } from './python-text';
import type { ReadJournal } from './read-journal';
import { type Report, reportOf } from './report';
import { english } from './words/english';
import { type ExportWords, fill } from './words/export-words';

/**
 * A run as a Jupyter notebook (nbformat 4.5): what was recorded as data, then stage table, readings, steps and timeline,
 * computed when the notebook is run. The same journal gives the same bytes. Throws RangeError where there is no event 0.
 */
export function toIpynb(journal: ReadJournal, words: ExportWords = english): string {
	const report = reportOf(journal);
	const { notebook } = words;
	const cells = [
		markdown(heading(report, words)),
		code(`import json\nfrom datetime import datetime\n\nrun = ${pythonJson(dataOf(report))}\n\n${helpers}`),
		markdown(`## ${notebook.stages}`), code(stageTable(words)),
		markdown(`## ${notebook.readings}`), code(readingTable(words)),
		markdown(`## ${notebook.steps}`), code(stepTable(words)),
		markdown(`## ${notebook.timeline}`), code(timeline(words))
	];
	// an id a cell, from what it holds and where it stands: the same each time
	const identified = cells.map((cell, i) => ({ ...cell, id: sha256Hex(`${i} ${cell.source.join('')}`).slice(0, 12) }));
	const metadata = { kernelspec: { display_name: 'Python 3', language: 'python', name: 'python3' }, language_info: { name: 'python' } };
	return canonical({ cells: identified, metadata, nbformat: 4, nbformat_minor: 5 }) + '\n';
}

/** Lines with their line feeds, as the format keeps them. */
const lines = (text: string): string[] => text.split(/(?<=\n)/);
const markdown = (text: string) => ({ cell_type: 'markdown' as const, metadata: {}, source: lines(text) });
const code = (text: string) => ({ cell_type: 'code' as const, execution_count: null, metadata: {}, outputs: [], source: lines(text) });

function heading({ title, people, sample, project, begun, run, count, head, fault }: Report, words: ExportWords): string {
	const { fields } = words;
	const facts: [string, string][] = [
		[fields.procedure, `${title} (${begun.edition.id})`], [fields.edition, `${begun.edition.version}, ${begun.edition.hash}`], [fields.person, people.join(', ')],
		[fields.sample, sample], [fields.project, project], [fields.run, run], [fields.record, fill(words.eventsAndHead, { count, head })]
	];
	return [
		`# ${plain(fill(words.recordOf, { title }))}`,
		...(begun.invented ? [`> ${words.invented}`] : []),
		...(fault ? [`> ${plain(fill(words.brokenAt, { seq: fault.seq, reason: fault.reason }))}`] : []),
		facts.filter(([, value]) => value).map(([name, value]) => `- **${name}:** ${plain(value)}`).join('\n'),
		words.cautions.map((caution) => `- ${plain(caution)}`).join('\n'),
		words.notebook.note
	].join('\n\n');
}

/** Python before 3.11 does not read "Z" as an offset. */
const moment = (at: string): string => at.replace(/Z$/, '+00:00');

/** What the cells compute with: durations in milliseconds, moments RFC 3339. */
function dataOf(report: Report) {
	return {
		run: report.run,
		began: moment(report.beganAt),
		last: moment(report.lastAt),
		booking_end: report.booking ? moment(report.booking.end) : null,
		stages: report.stages.map(({ title, plannedMs, time, beganAt, endedAt, leftOut }) => ({
			stage: title, planned_ms: plannedMs, actual_ms: time.elapsedMs, paused_ms: time.pausedMs, held_ms: time.heldMs, not_measured_ms: time.gapWallMs,
			began: beganAt === null ? null : moment(beganAt), ended: endedAt === null ? null : moment(endedAt), left_out: leftOut
		})),
		steps: report.rows.map((row) => ({
			began: moment(row.entered.at), ended: row.ended ? moment(row.ended.at) : null, stage: report.stageTitle(row.stage), step: report.stepTitle(row.path), visit: row.visit,
			outcome: row.outcome === null ? row.reason : report.answer(row.path, row.outcome), elapsed_ms: row.time.elapsedMs, taken_back: row.undone
		})),
		readings: report.readings.map(({ event: { at, data }, name, undone }) => ({
			at: moment(at), step: report.stepTitle(data.step), reading: name, round: data.round, value: data.value, uncertainty: data.uncertainty, unit: data.unit, taken_back: undone
		}))
	};
}

const helpers = `begin = datetime.fromisoformat(run["began"])

def minutes(at):
    """Minutes from the run's begin to a moment."""
    return (datetime.fromisoformat(at) - begin).total_seconds() / 60

def spent(ms):
    """A duration as h:mm:ss."""
    seconds = round(ms / 1000)
    return f"{seconds // 3600}:{seconds // 60 % 60:02}:{seconds % 60:02}"

def clock(at):
    """Time of day as the device showed it."""
    return at[11:19] if at else ""

def table(header, rows):
    """A data frame where pandas is installed, else the table as text."""
    try:
        import pandas
    except ImportError:
        cells = [[("" if cell is None else str(cell)) for cell in row] for row in [header, *rows]]
        widths = [max(map(len, column)) for column in zip(*cells)]
        for row in cells:
            print("  ".join(cell.ljust(width) for cell, width in zip(row, widths)).rstrip())
        return None
    return pandas.DataFrame(rows, columns=header)
`;

const header = (...names: string[]) => pythonJson(names);

const stageTable = ({ columns }: ExportWords) => `table(
    ${header(columns.stage, columns.planned, columns.actual, columns.paused, columns.held, columns.notMeasured, columns.began, columns.ended, columns.remark)},
    [[s["stage"], spent(s["planned_ms"]), spent(s["actual_ms"]), spent(s["paused_ms"]), spent(s["held_ms"]),
      spent(s["not_measured_ms"]), clock(s["began"]), clock(s["ended"]), s["left_out"]] for s in run["stages"]],
)`;

const readingTable = ({ columns, takenBack }: ExportWords) => `taken_back = ${pythonJson(takenBack)}
table(
    ${header(columns.time, columns.step, columns.reading, columns.value, columns.uncertainty, columns.unit, columns.remark)},
    [[clock(r["at"]), r["step"], r["reading"], r["value"], r["uncertainty"], r["unit"],
      taken_back if r["taken_back"] else ""] for r in run["readings"]],
)`;

const stepTable = ({ columns }: ExportWords) => `table(
    ${header(columns.time, columns.stage, columns.step, columns.outcome, columns.actual, columns.remark)},
    [[clock(s["began"]), s["stage"], s["step"], s["outcome"], spent(s["elapsed_ms"]),
      taken_back if s["taken_back"] else ""] for s in run["steps"]],
)`;

const timeline = ({ notebook, fields }: ExportWords) => `walked = [(s["stage"], minutes(s["began"]), minutes(s["ended"] or run["last"])) for s in run["stages"] if s["began"]]
end = minutes(run["last"])
booking = minutes(run["booking_end"]) if run["booking_end"] else None
try:
    import matplotlib.pyplot as plt
except ImportError:
    scale = 60 / max(end, 1e-9)
    for name, start, stop in walked:
        print(f"{name:<28.28} {' ' * round(start * scale)}{'#' * max(1, round((stop - start) * scale))}")
    print(f"{'':28} 0 – {end:.1f}", ${pythonJson(notebook.minutes)})
else:
    figure, axes = plt.subplots(figsize=(9, 0.45 * max(1, len(walked)) + 1.2))
    axes.barh([name for name, _, _ in walked], [stop - start for _, start, stop in walked], left=[start for _, start, _ in walked])
    if booking is not None:
        axes.axvline(booking, color="black", linewidth=3, label=${pythonJson(fields.booking)})
        axes.legend()
    axes.invert_yaxis()
    axes.set_xlabel(${pythonJson(notebook.minutes)})
    figure.tight_layout()
    plt.show()
`;
