import type { Logger } from 'pino';
import type { Paper, PaperLanguage } from '../documents/index.ts';
import type { Clock } from '../platform/clock.ts';
import type { Database } from '../platform/database/database.ts';
import type { Ids } from '../platform/ids.ts';
import type { SmtpServer } from './send-by-smtp.ts';
import type { TextGateway } from './send-text.ts';

/** What delivering is given from outside. */
export interface DeliveryDeps {
  db: Database;
  clock: Clock;
  ids: Ids;
  log: Logger;
  papers: PaperSource;
  mail: MailCarrier;
  /** Undefined where no gateway is set up. */
  text: TextGateway | undefined;
  /** The address that mails are from; the company's own unless given. */
  mailFrom: string | undefined;
  /** Where people reach us; undefined where nobody can from outside, and then no mail has a link. */
  publicUrl: string | undefined;
  /** Told of each step before the next begins: where a test breaks the process off. */
  atStep?: ((step: DeliveryStep) => Promise<void>) | undefined;
}

/** Where mails go: to a server, or into a folder where none is set up. */
export type MailCarrier =
  | { kind: 'smtp'; server: SmtpServer }
  | { kind: 'files'; directory: string };

export interface PaperSource {
  /**
   * What a paper says and its file, in this language or in English where it was issued in that
   * alone.
   * @throws ProblemError 503 while too many papers are being drawn
   */
  read(paperId: string, language: PaperLanguage): Promise<SourcePaper>;
}

export interface SourcePaper {
  paper: Paper;
  pdf: Uint8Array;
  fileName: string;
}

export const DELIVERY_STEPS = [
  'claimed',
  'drawn',
  'linked',
  'composed',
  'handed_over',
  'carried',
  'settled',
] as const;
export type DeliveryStep = (typeof DELIVERY_STEPS)[number];
