import { type RefrigerantCode, refrigerantCodeSchema } from './refrigerants.ts';

/**
 * The refrigerant that a nameplate or a cylinder names, however it writes it; undefined for one we
 * do not know and for a bare number, which could be a weight or a pressure.
 * Worked: 'R22', 'r 410a', 'HFC-410A', 'HCFC-22' and '410A' are known; '22' and 'R-404A' are not.
 */
export function knownRefrigerant(text: string): RefrigerantCode | undefined {
  return codeOfSpelling.get(spelledAsPrinted(text));
}

/** Upper case without spaces and hyphens, of which printed plates use several kinds. */
export function spelledAsPrinted(text: string): string {
  return text.toUpperCase().replace(/[\s\u002d\u2010-\u2015]/g, '');
}

const codeOfSpelling: ReadonlyMap<string, RefrigerantCode> = new Map(
  refrigerantCodeSchema.options.flatMap((code) =>
    spellings(code).map((written): [string, RefrigerantCode] => [written, code]),
  ),
);

function spellings(code: RefrigerantCode): string[] {
  const number = spelledAsPrinted(code).slice('R'.length);
  const withPrefix = ['R', 'HCFC', 'HFC'].map((prefix) => `${prefix}${number}`);
  return /[A-Z]$/.test(number) ? [...withPrefix, number] : withPrefix;
}
