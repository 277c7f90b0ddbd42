import type { Paper } from './paper.ts';
import { paperText } from './paper-text.ts';

/** Every text of a paper as it is to be printed, however long. */
export function* paperTexts({ paper }: Paper): Generator<string> {
  yield* textsIn(paper);
}

/** Every text in a piece of data, at any depth, as it is to be printed. */
export function* textsIn(value: unknown): Generator<string> {
  if (typeof value === 'string') yield paperText(value, Number.MAX_SAFE_INTEGER);
  else if (typeof value === 'object' && value !== null) {
    for (const part of Object.values(value)) yield* textsIn(part);
  }
}
