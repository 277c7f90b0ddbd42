/**
 * One text for one value, whatever order its keys were written in: keys sorted by UTF-16 code
 * units and no white space, as in RFC 8785 (JSON Canonicalization Scheme). A lone surrogate, which
 * the RFC refuses, is escaped, so that there is a text for whatever a client may send.
 * @throws TypeError for what JSON has no word for: undefined, functions, NaN and infinities
 */
export function canonicalJson(value: unknown): string {
  if (value === null || typeof value === 'string' || typeof value === 'boolean') {
    return JSON.stringify(value);
  }
  if (typeof value === 'number') {
    if (!Number.isFinite(value)) throw new TypeError(`JSON has no word for ${value}`);
    return JSON.stringify(value);
  }
  if (Array.isArray(value)) return `[${value.map(canonicalJson).join(',')}]`;
  if (typeof value === 'object') return canonicalObject(value as Record<string, unknown>);
  throw new TypeError(`JSON has no word for a ${typeof value}`);
}

function canonicalObject(value: Record<string, unknown>): string {
  const members = Object.keys(value)
    .filter((key) => value[key] !== undefined)
    .sort()
    .map((key) => `${JSON.stringify(key)}:${canonicalJson(value[key])}`);
  return `{${members.join(',')}}`;
}
