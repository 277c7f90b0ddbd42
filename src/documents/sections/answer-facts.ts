import type { AnswerWords } from '../answer-words.ts';
import { type Tag, tagUnder } from '../page-plan.ts';
import type { PaperAnswerWay } from '../paper-parts.ts';
import { addHeading, type Sheet } from '../sheet.ts';
import { addFacts, type Fact } from './facts.ts';

/** Who answered, when and how. */
export interface Answered {
  name: string;
  momentText: string;
  given: PaperAnswerWay;
  more: readonly Fact[];
}

export function addAnswerFacts(
  sheet: Sheet<AnswerWords>,
  root: Tag,
  { name, momentText, given, more }: Answered,
): Tag {
  const { words } = sheet;
  const section = tagUnder(root, 'Sect');
  addHeading(sheet, section, words.answer);
  addFacts(sheet, section, [
    [words.name, name],
    [words.when, momentText],
    [words.how, words.given(given)],
    ...more,
  ]);
  return section;
}
