import type { Tx } from '../platform/database/database.ts';
import type { Press } from '../press/index.ts';
import type { PaperKey } from '../proof/index.ts';
import type { StoredFile } from './file-of.ts';

export interface PaperDeskOptions {
  press: Pick<Press, 'draw' | 'drawReport'>;
  /** What signs the papers. */
  key: PaperKey;
  /** Where people reach us; undefined where papers cannot say, and then they have no code. */
  publicUrl(): string | undefined;
  /** Freezes the record of work that was closed before such records were kept. */
  recordWork(tx: Tx, closingId: string): Promise<void>;
}

/** What it takes to make a file of a paper. */
export interface PaperDesk extends PaperDeskOptions {
  /** Files that are being made: whoever asks meanwhile waits for the same one. */
  readonly making: Map<string, Promise<StoredFile>>;
}

export function createPaperDesk(options: PaperDeskOptions): PaperDesk {
  return { ...options, making: new Map() };
}

// Whoever answers with a file may have to make it first.
declare module '../platform/http/route.ts' {
  interface BytesContext {
    papers: PaperDesk;
  }
}
