import type { Span } from './words.ts';

/** What decides when a piece of work may begin. */
export interface Work {
  readonly minutes: number;
  readonly earliest: number;
  readonly latest: number;
  /** Whether it begins on arrival, outside the hours, where it fits into no span of them any more. */
  readonly beyondHours: boolean;
}

/**
 * The first minute at or after `ready` at which work may begin: within its window, and so that it
 * ends within the span of hours it began in. Infinity where there is none. Who is ready later never
 * begins earlier.
 */
export function firstStart(hours: readonly Span[], work: Work, ready: number): number {
  const start = fitting(hours, work, ready) ?? beyond(work, ready);
  return start <= work.latest ? start : Number.POSITIVE_INFINITY;
}

/** The last minute not after `bound` at which it may begin; minus infinity where there is none. */
export function lastStart(hours: readonly Span[], work: Work, bound: number): number {
  const latest = Math.min(bound, work.latest);
  const fits = lastFitting(hours, work, latest);
  const isPastAll = latest > lastFitting(hours, work, Number.POSITIVE_INFINITY);
  return work.beyondHours && isPastAll && latest >= work.earliest ? latest : fits;
}

function fitting(hours: readonly Span[], work: Work, ready: number): number | undefined {
  for (const { from, to } of hours) {
    const start = Math.max(from, work.earliest, ready);
    if (start + work.minutes <= to) return start;
  }
  return undefined;
}

function beyond({ beyondHours, earliest }: Work, ready: number): number {
  return beyondHours ? Math.max(earliest, ready) : Number.POSITIVE_INFINITY;
}

function lastFitting(hours: readonly Span[], work: Work, bound: number): number {
  for (let index = hours.length - 1; index >= 0; index--) {
    const span = hours[index];
    if (span === undefined) continue;
    const start = Math.min(span.to - work.minutes, bound);
    if (start >= Math.max(span.from, work.earliest)) return start;
  }
  return Number.NEGATIVE_INFINITY;
}
