/**
 * After how many days an issued quote that nobody answered is asked about, step by step. Common
 * practice, no source.
 */
export const followUpDays: readonly number[] = [1, 3, 7];
