import type { PaperLanguage } from '../documents/index.ts';
import { type Line, lineInSpanish, type SpanishContext } from '../pricing/index.ts';
import { taskInSpanish } from '../trade/index.ts';

/** A line with what is said of it in a language: what it is for, and why it has its amount. */
export interface ToldLine {
  line: Line;
  description: string;
  sentence: string;
}

/** The lines of one option, or of a no, as they are told in a language. */
export function tellLines(
  priced: Omit<SpanishContext, 'taskName'>,
  language: PaperLanguage,
): ToldLine[] {
  return priced.lines.map((line) => ({ line, ...tell[language](line, priced) }));
}

type Tell = (line: Line, priced: Omit<SpanishContext, 'taskName'>) => Omit<ToldLine, 'line'>;

const tell: Record<PaperLanguage, Tell> = {
  en: ({ description, why }) => ({ description, sentence: why.sentence }),
  es: (line, priced) => lineInSpanish(line, { ...priced, taskName: taskInSpanish }),
};
