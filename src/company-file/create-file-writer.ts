import { createHash } from 'node:crypto';
import type { FileHandle } from 'node:fs/promises';

/** Texts on their way into a file. */
export interface FileWriter {
  write(text: string): Promise<void>;
  /** The SHA-256 of everything written so far. */
  digest(): string;
  /** Makes sure that everything is in the file. */
  flush(): Promise<void>;
}

// Large enough that the disk is asked seldom, small enough that memory stays flat.
const BLOCK_CHARACTERS = 1 << 20;

/** Gathers texts into blocks, writes these one after the other, and sums up what was written. */
export function createFileWriter(file: Pick<FileHandle, 'writeFile'>): FileWriter {
  const hash = createHash('sha256');
  let gathered: string[] = [];
  let characters = 0;
  const flush = async () => {
    const block = Buffer.from(gathered.join(''), 'utf8');
    gathered = [];
    characters = 0;
    if (block.length > 0) await file.writeFile(block);
  };
  return {
    write: async (text) => {
      hash.update(text, 'utf8');
      gathered.push(text);
      characters += text.length;
      if (characters >= BLOCK_CHARACTERS) await flush();
    },
    digest: () => hash.copy().digest('hex'),
    flush,
  };
}
