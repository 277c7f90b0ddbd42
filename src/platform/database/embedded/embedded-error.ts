/** What went wrong, for a caller that must choose; the message is for the person who reads it. */
export type EmbeddedErrorCode =
  | 'unsupported_platform'
  | 'package_missing'
  | 'cannot_run'
  | 'no_account'
  | 'not_ours'
  | 'untrusted_place'
  | 'not_writable'
  | 'disk_full'
  | 'other_major'
  | 'held'
  | 'start_failed'
  | 'ended';

/** A plain, complete sentence about why the embedded Postgres cannot serve, and what to do. */
export class EmbeddedError extends Error {
  readonly code: EmbeddedErrorCode;

  constructor(code: EmbeddedErrorCode, message: string, options?: ErrorOptions) {
    super(message, options);
    this.name = 'EmbeddedError';
    this.code = code;
  }
}

/** The way out that is open in every case. */
export const USE_ANOTHER_SERVER = 'To use a Postgres server of your own instead, set DATABASE_URL.';
