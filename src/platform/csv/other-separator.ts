/**
 * What separates the columns of a file instead of commas, in words: spreadsheets of countries that
 * write 1,50 for one and a half use semicolons. Undefined when it looks like commas after all.
 */
export function otherSeparator(bytes: Uint8Array, columns: readonly string[]): string | undefined {
  const start = Buffer.from(bytes.subarray(0, HEADER_BYTES_MAX)).toString('utf8');
  const [header = ''] = start.replace(/^\ufeff/, '').split('\n', 1);
  if (header.includes(',')) return undefined;
  return SEPARATORS.find(([, sign]) => {
    const names = header.split(sign).map((name) => name.trim().replace(/^"|"$/g, ''));
    return names.length > 1 && names.some((name) => columns.includes(name));
  })?.[0];
}

const HEADER_BYTES_MAX = 10_000;

const SEPARATORS = [
  ['semicolons', ';'],
  ['tabs', '\t'],
] as const;
