import type { PaperAnswerWay } from '../documents/index.ts';

/** How an answer reached us: the customer gave it at a link, or our staff put it on record. */
export function answerWay({ recordedByName }: { recordedByName: string | null }): PaperAnswerWay {
  return recordedByName === null ? { way: 'link' } : { way: 'staff', recordedBy: recordedByName };
}
