import * as m from '$lib/paraglide/messages';
import { type FormatId, FORMATS } from '$lib/record/formats';

const names: Readonly<Record<FormatId, () => string>> = {
	md: m.format_md, csv: m.format_csv, json: m.format_json, eln: m.format_eln, xes: m.format_xes, ipynb: m.format_ipynb, ics: m.format_ics, parquet: m.format_parquet, html: m.format_html
};

/** All formats with their names, in the order of their table. */
export const formatChoices = (): readonly { readonly id: FormatId; readonly name: string }[] => (Object.keys(FORMATS) as FormatId[]).map((id) => ({ id, name: names[id]() }));
