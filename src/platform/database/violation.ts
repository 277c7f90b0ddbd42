/** What the database refused, whichever of the layers above it reported the refusal. */
export interface Violation {
  /** SQLSTATE, e.g. '23P01' for an exclusion constraint. */
  sqlState: string;
  /** Name of the constraint where the server or its message names one. */
  constraint?: string;
}

/**
 * Reads SQLSTATE and constraint out of an error. The same refusal arrives in several shapes: from
 * plain SQL as the driver's own error; from the typed client inside `meta.driverAdapterError`; and
 * from a failing COMMIT as a bare adapter error with only a `cause`.
 * @returns undefined when the error is not a refusal by the database
 */
export function violationOf(error: unknown): Violation | undefined {
  for (const layer of layersOf(error)) {
    const sqlState = text(layer['originalCode']) ?? sqlStateOf(layer);
    if (sqlState !== undefined) {
      const constraint = text(layer['constraint']) ?? constraintIn(layer);
      return { sqlState, ...(constraint !== undefined && { constraint }) };
    }
  }
  return undefined;
}

/** Whether a row was refused because another one has taken its place in a unique index. */
export function isTaken(error: unknown): boolean {
  return violationOf(error)?.sqlState === '23505';
}

type Layer = Record<string, unknown>;

function layersOf(error: unknown): Layer[] {
  const layers: Layer[] = [];
  let current: unknown = error;
  while (isLayer(current) && layers.length < 6) {
    layers.push(current);
    const meta: unknown = current['meta'];
    current = (isLayer(meta) ? meta['driverAdapterError'] : undefined) ?? current['cause'];
  }
  return layers;
}

function isLayer(value: unknown): value is Layer {
  return typeof value === 'object' && value !== null;
}

function sqlStateOf(layer: Layer): string | undefined {
  const code = text(layer['code']);
  return code !== undefined && /^[0-9A-Z]{5}$/.test(code) && !/^P\d{4}$/.test(code)
    ? code
    : undefined;
}

function constraintIn(layer: Layer): string | undefined {
  const message = text(layer['originalMessage']) ?? text(layer['message']) ?? '';
  return /constraint "([^"]+)"/.exec(message)?.[1];
}

function text(value: unknown): string | undefined {
  return typeof value === 'string' && value !== '' ? value : undefined;
}
