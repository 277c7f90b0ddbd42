import type { Line } from '../priced-quote.ts';
import { describeInSpanish } from './describe-in-spanish.ts';
import { discountSentence } from './discount-sentence.ts';
import { feeCreditSentence } from './fee-credit-sentence.ts';
import { freeWorkSentence } from './free-work-sentence.ts';
import { goodSentence, partSentence } from './part-sentence.ts';
import type { SpanishContext } from './spanish-context.ts';
import { taxSentence } from './tax-sentence.ts';
import { accessSentence, laborSentence } from './time-sentence.ts';
import { visitFeeSentence } from './visit-fee-sentence.ts';

/** A line in Spanish: what it is for, and why it has its amount, each from the facts of the price. */
export interface LineInSpanish {
  readonly description: string;
  readonly sentence: string;
}

/**
 * What a line says in Spanish. Nothing is translated from its English words: the sentence is made of
 * the same facts, so that each figure of one language stands in the other. What the owner typed
 * (parts, agreements, reasons of adjustments) stays as it is.
 */
export function lineInSpanish(line: Line, context: SpanishContext): LineInSpanish {
  return { description: describeInSpanish(line, context), sentence: sentenceOf(line, context) };
}

function sentenceOf(line: Line, context: SpanishContext): string {
  switch (line.kind) {
    case 'visit_fee':
      return visitFeeSentence(line, context);
    case 'part':
      return freeWorkSentence(line, context) ?? partSentence(line);
    case 'good':
      return freeWorkSentence(line, context) ?? goodSentence(line);
    case 'labor':
      return freeWorkSentence(line, context) ?? laborSentence(line, context);
    case 'access':
      return accessSentence(line, context);
    case 'discount':
      return discountSentence(line, context);
    case 'adjustment':
      return line.why.sentence;
    case 'credit':
      return feeCreditSentence(line, context);
    case 'tax':
      return taxSentence(line, context);
  }
}
