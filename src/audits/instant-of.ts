/** An instant as the database writes it in JSON, as facts have it: with milliseconds and `Z`. */
export function instantOf(text: string): string {
  // Whole seconds are put together by hand, which takes a tenth of the time: there are ten to a job.
  return text.length === WHOLE_SECONDS.length && text.endsWith(UTC)
    ? `${text.slice(0, -UTC.length)}.000Z`
    : new Date(text).toISOString();
}

const UTC = '+00:00';
const WHOLE_SECONDS = `2026-01-12T08:30:00${UTC}`;
