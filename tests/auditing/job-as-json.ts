import type { JobFacts } from '../../src/auditing/index.ts';

/** A job as it is written to a file; the lists of a price book are kept by their codes. */
export function asJson(job: JobFacts): unknown {
  return JSON.parse(
    JSON.stringify(job, (_, value) => (value instanceof Map ? bundle(value) : value)),
  );
}

/** A job as it was written. Its shape is that of the program, which wrote it. */
export function jobFromJson(text: string): { job: JobFacts; judgement: unknown } {
  return JSON.parse(text, (_, value) => (isBundle(value) ? new Map(value.entries) : value));
}

interface Bundle {
  readonly kind: 'by_code';
  readonly entries: readonly [string, unknown][];
}

function bundle(map: ReadonlyMap<string, unknown>): Bundle {
  return { kind: 'by_code', entries: [...map] };
}

function isBundle(value: unknown): value is Bundle {
  return typeof value === 'object' && value !== null && 'kind' in value && value.kind === 'by_code';
}
