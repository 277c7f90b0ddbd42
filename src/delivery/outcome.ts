/**
 * What became of one attempt to deliver. Only after `try_again` may a machine try again: whatever
 * may have arrived is left to a person, so that nobody gets the same mail twice.
 */
export type Outcome =
  | { outcome: 'sent' }
  | { outcome: 'try_again'; reason: string; answerCode?: number }
  | { outcome: 'refused'; reason: string; answerCode?: number }
  | { outcome: 'unsure'; reason: string };

/** What whoever carries a mail asks and is told on the way. */
export interface HandingOver {
  /**
   * Called once, when everything has left but the end without which nothing has arrived: writes
   * down that the mail is handed over.
   * @returns false when the mail is no longer this worker's, whose end must then never go out
   */
  handOver(): Promise<boolean>;
  /** Aborted when the attempt has to end; what is handed over by then is not called back. */
  signal: AbortSignal;
}

/** A mail as it goes over the line. */
export interface RawMail {
  /** The addresses alone, for the envelope. */
  from: string;
  to: string;
  bytes: Uint8Array;
}
