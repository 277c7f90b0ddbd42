import type { AcceptancePaper } from './acceptance-paper.ts';
import type { AnswerWords } from './answer-words.ts';
import type { DeclinePaper } from './decline-paper.ts';
import { finishPlan } from './finish-plan.ts';
import { type PagePlan, type Tag, tag } from './page-plan.ts';
import type { PlanOptions } from './plan-quote.ts';
import { addFingerprint } from './sections/fingerprint.ts';
import { addLetterhead } from './sections/letterhead.ts';
import type { Sheet } from './sheet.ts';

/** The paper of an answer, and how it names itself. */
export interface Answer<Words extends TitledWords> {
  paper: AcceptancePaper | DeclinePaper;
  words: Words;
  /** When it was given, as the reader shall see it. */
  answeredText: string;
}

export interface TitledWords extends AnswerWords {
  title: string;
  fileTitle: (quoteNumber: string, company: string) => string;
}

/**
 * Lays out the paper of an answer, whose head and end a yes and a no have alike.
 * @param tell writes what stands between them
 */
export function planAnswer<Words extends TitledWords>(
  { paper, words, answeredText }: Answer<Words>,
  { measure, pageUrl }: PlanOptions,
  tell: (sheet: Sheet<Words>, root: Tag) => void,
): PagePlan {
  const { company, quoteNumber, contentHash } = paper;
  const root = tag('Document');
  const sheet: Sheet<Words> = { rows: [], words, measure };
  const ofQuote = words.ofQuote(quoteNumber, paper.revision);
  addLetterhead(sheet, root, { company, title: words.title, facts: [ofQuote, answeredText] });
  tell(sheet, root);
  addFingerprint(sheet, root, { contentHash, pageUrl });
  return finishPlan(sheet, root, {
    title: words.fileTitle(quoteNumber, company.name),
    subject: words.title,
    footer: `${words.title}: ${ofQuote}  ·  ${company.name}`,
    createdAt: paper.issuedAt,
  });
}
