import { lastDayText } from '../company/index.ts';
import { formatCents } from '../documents/index.ts';
import { dayText, type Language } from '../page-frame/index.ts';
import type { Company } from '../platform/database/generated/client.ts';
import { paperName } from '../proof/index.ts';
import type { IssuedPaper } from './issued-papers.ts';
import type { QuoteStanding } from './quote-standing.ts';
import { words } from './words.ts';

/** A paper in words: what it is called, what must stand on it, and what became of it. */
export interface ToldPaper {
  name: string;
  facts: readonly { label: string; value: string }[];
  stands: { word: string; text: string };
}

/** Where and to whom it is told. */
export interface ToldTo {
  company: Pick<Company, 'phone' | 'timeZone'>;
  language: Language;
}

/** Puts a paper into the words of a page. */
export function toldPaper(paper: IssuedPaper, to: ToldTo): ToldPaper {
  const own = words[to.language].issued;
  const name = capital(paperName(paper.kind, paper.number, to.language));
  return {
    name: paper.kind === 'quote' ? own.quote(name, paper.revision) : name,
    facts: [
      { label: own.day[paper.kind], value: dayOf(paper.on, to) },
      ...(paper.kind === 'quote' && paper.addsTo !== undefined
        ? [{ label: own.addsTo, value: capital(paperName('quote', paper.addsTo, to.language)) }]
        : []),
      ...amountsOf(paper).map(({ letter, totalCents }) => ({
        label: own.total(letter),
        value: formatCents(totalCents),
      })),
    ],
    stands: standsOf(paper, to),
  };
}

function amountsOf(paper: IssuedPaper) {
  switch (paper.kind) {
    case 'quote':
      return paper.totals;
    case 'acceptance':
      return [paper.chosen];
    case 'invoice':
    case 'credit_memo':
      return [{ letter: undefined, totalCents: paper.totalCents }];
    case 'decline':
    case 'work_record':
      return [];
  }
}

function standsOf(paper: IssuedPaper, to: ToldTo): ToldPaper['stands'] {
  const { stands } = words[to.language];
  switch (paper.kind) {
    case 'quote':
      return quoteStands(paper.standing, paper.addsTo ?? '', to);
    case 'acceptance': {
      const { cancelledOn, chosen } = paper;
      return cancelledOn === undefined
        ? tell(stands.yes, formatCents(chosen.totalCents))
        : tell(stands.yes_cancelled, dayOf(cancelledOn, to));
    }
    case 'decline':
      return tell(stands.no);
    case 'invoice':
      return tell(stands.invoice, to.company.phone);
    case 'credit_memo':
    case 'work_record':
      return tell(stands[paper.kind]);
  }
}

function quoteStands(standing: QuoteStanding, parent: string, to: ToldTo): ToldPaper['stands'] {
  const { stands } = words[to.language];
  const { phone, timeZone } = to.company;
  switch (standing.state) {
    case 'open':
    case 'expired': {
      const lastDay = lastDayText(standing.until, timeZone, to.language);
      return tell(stands[standing.state], lastDay, phone);
    }
    case 'accepted': {
      const { letter, totalCents } = standing.chosen;
      return tell(stands.accepted, dayOf(standing.on, to), formatCents(totalCents), letter);
    }
    case 'cancelled':
      return tell(stands.cancelled, dayOf(standing.acceptedOn, to), dayOf(standing.on, to));
    case 'declined':
    case 'withdrawn':
      return tell(stands[standing.state], dayOf(standing.on, to), phone);
    case 'replaced':
      return tell(stands.replaced, standing.by, dayOf(standing.on, to), phone);
    case 'ended':
      return tell(stands.ended, phone);
    case 'parent_cancelled':
      return tell(stands.parent_cancelled, parent, phone);
  }
}

function tell<Facts extends unknown[]>(
  { word, text }: { word: string; text: (...facts: Facts) => string },
  ...facts: Facts
): ToldPaper['stands'] {
  return { word, text: text(...facts) };
}

function dayOf(instant: Date, { language, company }: ToldTo): string {
  return dayText(instant, language, company.timeZone);
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
