import type { PaperLanguage } from '../documents/index.ts';
import { type Line, lineInSpanish, type SpanishContext } from '../pricing/index.ts';
import { taskCodeSchema, tasksInSpanish, taskWords } from '../trade/index.ts';

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
  es: (line, priced) => lineInSpanish(line, { ...priced, taskName }),
};

/**
 * What a task is called in Spanish, by its code; where an earlier document has kept its name alone,
 * by that. A name that the owner gave stays as it is where no code tells more.
 */
const taskName: SpanishContext['taskName'] = ({ code, name }) => {
  const known = taskCodeSchema.options.find(
    (each) => each === code || (code === undefined && taskWords[each].name === name),
  );
  return known === undefined ? name : tasksInSpanish[known];
};
