/**
 * Keeps a spreadsheet from running a cell: one that would start a formula gets an apostrophe in
 * front. So does one that has apostrophes before such a start, because otherwise taking them off
 * again could not tell ours from its own. (OWASP, CSV Injection; OWASP ASVS 5.0, 1.2.10.)
 */
export function guardFormula(cell: string): string {
  return STARTS_FORMULA.test(cell) ? `'${cell}` : cell;
}

/** The cell as it was before `guardFormula`: for every string, guarding it first changes nothing. */
export function unguardFormula(cell: string): string {
  return IS_GUARDED.test(cell) ? cell.slice(1) : cell;
}

// The wide forms of the signs count too: some spreadsheets read them as the signs themselves.
const STARTS_FORMULA = /^'*[=+\-@\t\r\n\0\uff1d\uff0b\uff0d\uff20]/;
const IS_GUARDED = /^'+[=+\-@\t\r\n\0\uff1d\uff0b\uff0d\uff20]/;
