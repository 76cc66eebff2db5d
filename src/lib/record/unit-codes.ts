/**
 * Units as procedures write them → UN/CEFACT common codes (Recommendation 20, revision 17 of 2021), which schema.org's `unitCode`
 * takes. A unit that is not here is given by its text alone.
 */
const codes: Readonly<Record<string, string>> = {
	nm: 'C45', µm: '4H', μm: '4H', mm: 'MMT', cm: 'CMT', m: 'MTR', '°': 'DD', rad: 'C81', ms: 'C26', s: 'SEC', min: 'MIN', h: 'HUR', '%': 'P1',
	pA: 'C70', nA: 'C39', µA: 'B84', mA: '4K', A: 'AMP', V: 'VLT', kV: 'KVT', eV: 'A53', keV: 'B29', Pa: 'PAL', mbar: 'MBR', K: 'KEL', '°C': 'CEL', kg: 'KGM', g: 'GRM', mg: 'MGM'
};

export const unitCode = (unit: string): string | null => (Object.hasOwn(codes, unit) ? codes[unit]! : null);
