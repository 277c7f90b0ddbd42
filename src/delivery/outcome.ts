/**
 * What became of one attempt to deliver. After `try_again` nothing has arrived. After `ask_again` a
 * text may have: its gateway is asked again all the same, for it sends one text for each key. A mail
 * that may have arrived is `unsure` and left to a person, so that nobody gets it twice.
 */
export type Outcome =
  | { outcome: 'sent' }
  | { outcome: 'try_again'; reason: string; answerCode?: number }
  | { outcome: 'ask_again'; reason: string; answerCode?: number }
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
