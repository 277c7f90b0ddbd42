import {
  type AcceptancePaper,
  type CreditMemoPaper,
  countsAsFound,
  type DeclinePaper,
  formatCents,
  type InvoicePaper,
  type QuotePaper,
  type WorkRecordPaper,
} from '../documents/index.ts';
import type { InvoiceMoney } from '../invoices/index.ts';
import { oneLine } from '../platform/one-line.ts';
import type { Letter, Standing } from './letter.ts';
import { type LetterWords, letterWords } from './letter-words.ts';

/** What a letter says of its own paper. */
export interface Said {
  subject: string;
  paragraphs: readonly string[];
}

/** What is said of each kind of paper, in the paper's own language. */
export function saidOf({ paper: { kind, paper }, ...letter }: Letter): Said {
  const { link, standing = 'waits', money, others = [], written } = letter;
  const words = letterWords[paper.language];
  switch (kind) {
    case 'quote':
      return saidOfQuote(paper, { url: link?.url, standing }, words.quote);
    case 'acceptance':
      return saidOfAcceptance(paper, words.acceptance);
    case 'decline':
      return saidOfDecline(paper, words.decline);
    case 'invoice':
      return saidOfInvoice(paper, money, words.invoice);
    case 'credit_memo':
      return saidOfCreditMemos([paper, ...others], written, words.creditMemo);
    case 'work_record':
      return saidOfWorkRecord(paper, words.workRecord);
  }
}

function saidOfQuote(
  { quoteNumber, revision, company, site, ...paper }: QuotePaper,
  { url, standing }: { url: string | undefined; standing: Standing },
  words: LetterWords['quote'],
): Said {
  const changed = paper.changes?.quoteNumber;
  const street = oneLine(site.address.street);
  return {
    subject: subjectOfQuote({ quoteNumber, revision, company, changed }, words),
    paragraphs: [
      changed === undefined
        ? words.lead(quoteNumber, street)
        : words.changeLead(quoteNumber, changed, street),
      ...(revision > 1 ? [words.replaces(revision)] : []),
      ...(url === undefined ? [words.copy[standing](company.phone)] : []),
      ...foundIn(paper, words),
      [
        ...paper.options.map(({ letter, title, totalCents }) =>
          words.option(
            paper.options.length === 1 ? undefined : letter,
            oneLine(title),
            formatCents(totalCents),
          ),
        ),
        // What a no would cost is of no use where nobody answers any more.
        ...(standing === 'waits' ? [whatANoMeans(paper, words)] : []),
      ].join('\n'),
      ...(url === undefined
        ? []
        : [words.until(paper.validUntilText), words.answer(url), words.yours]),
    ],
  };
}

function whatANoMeans(
  { changes, decline: { totalCents } }: Pick<QuotePaper, 'changes' | 'decline'>,
  words: LetterWords['quote'],
): string {
  if (totalCents > 0) return words.no(formatCents(totalCents));
  return changes === undefined ? words.noFree : words.noAddsNothing;
}

/** What the evidence does not carry is not called found. */
function foundIn({ findings }: Pick<QuotePaper, 'findings'>, words: LetterWords['quote']) {
  const namesOf = (carried: boolean) =>
    findings
      .filter(({ standing }) => countsAsFound(standing) === carried)
      .map(({ name }) => oneLine(name))
      .join('; ');
  const [found, others] = [namesOf(true), namesOf(false)];
  return [
    ...(found === '' ? [] : [words.found(found)]),
    ...(others === '' ? [] : [words.notProven(others)]),
  ];
}

function subjectOfQuote(
  quote: Pick<QuotePaper, 'quoteNumber' | 'revision' | 'company'> & { changed: string | undefined },
  words: LetterWords['quote'],
): string {
  const { quoteNumber, revision, company, changed } = quote;
  if (changed !== undefined) return words.change(quoteNumber, changed, company.name);
  if (revision > 1) return words.revised(quoteNumber, revision, company.name);
  return words.subject(quoteNumber, company.name);
}

function saidOfAcceptance(paper: AcceptancePaper, words: LetterWords['acceptance']): Said {
  const { quoteNumber, company, option, cancelUntilText } = paper;
  return {
    subject: words.subject(quoteNumber, company.name),
    paragraphs: [
      words.lead(oneLine(paper.acceptedByName), quoteNumber, paper.acceptedText),
      words.agreed(oneLine(option.title), formatCents(option.totalCents)),
      ...(cancelUntilText === undefined ? [] : [words.cancel(cancelUntilText)]),
      words.notYou(company.phone),
    ],
  };
}

function saidOfDecline(paper: DeclinePaper, words: LetterWords['decline']): Said {
  const { quoteNumber, company, changes, dangerWarned } = paper;
  const owed = paper.decline.totalCents;
  return {
    subject: words.subject(quoteNumber, company.name),
    paragraphs: [
      words.lead(oneLine(paper.declinedByName), quoteNumber, paper.declinedText),
      ...(dangerWarned === undefined ? [] : [words.danger(oneLine(dangerWarned))]),
      words.tells,
      ...(changes === undefined
        ? [owed === 0 ? words.owedNothing : words.owed(formatCents(owed))]
        : [words.standsAsItWas(changes.quoteNumber)]),
      words.notYou(company.phone),
    ],
  };
}

function saidOfInvoice(
  paper: InvoicePaper,
  money: InvoiceMoney | undefined,
  words: LetterWords['invoice'],
): Said {
  const { invoiceNumber, ticketNumber, company, totalCents, dueText } = paper;
  const balanceCents = money?.balanceCents ?? totalCents;
  const { street, city, region, postalCode } = company.address;
  const address = `${company.name}, ${street}, ${city}, ${region} ${postalCode}`;
  return {
    subject: words.subject(invoiceNumber, formatCents(totalCents), company.name),
    paragraphs: [
      words.lead(invoiceNumber, ticketNumber, oneLine(paper.site.address.street)),
      ...movedSince(money, words),
      ...(balanceCents > 0
        ? [
            words.pay(formatCents(balanceCents), dueText),
            words.how(invoiceNumber, company.phone, address),
            words.notAsAgreed(company.phone),
          ]
        : [
            balanceCents === 0 ? words.nothing : words.owedToYou(formatCents(-balanceCents)),
            words.notAsAgreedSettled(company.phone),
          ]),
    ],
  };
}

/** What came in and went out since the paper was made: nothing of one that was just issued. */
function movedSince(money: InvoiceMoney | undefined, words: LetterWords['invoice']): string[] {
  if (money === undefined) return [];
  const { totalCents, paidCents, creditedCents, refundedCents } = money;
  const moved = [
    ...(creditedCents > 0 ? [words.takenOff(formatCents(creditedCents))] : []),
    ...(paidCents > 0 ? [words.paid(formatCents(paidCents))] : []),
    ...(refundedCents > 0 ? [words.paidBack(formatCents(refundedCents))] : []),
  ];
  return moved.length === 0 ? [] : [[words.billed(formatCents(totalCents)), ...moved].join('\n')];
}

function saidOfCreditMemos(
  papers: readonly [CreditMemoPaper, ...CreditMemoPaper[]],
  written: string | undefined,
  words: LetterWords['creditMemo'],
): Said {
  const [{ company, memoNumber }] = papers;
  const total = formatCents(papers.reduce((sum, { totalCents }) => sum + totalCents, 0));
  const numbers = papers.map((paper) => paper.memoNumber);
  return {
    subject:
      numbers.length === 1
        ? words.subject(memoNumber, total, company.name)
        : words.subjectOfSeveral(numbers, total, company.name),
    // A letter says all of this itself, and more.
    paragraphs: written?.split('\n\n') ?? [
      ...papers.flatMap((paper) => [
        words.lead(paper.memoNumber, paper.invoiceNumber),
        words.given(formatCents(paper.totalCents)),
      ]),
      ...new Set(papers.map(({ reason }) => words.reason(oneLine(reason)))),
    ],
  };
}

function saidOfWorkRecord(paper: WorkRecordPaper, all: LetterWords['workRecord']): Said {
  const words =
    all[paper.works.some(({ outcome }) => outcome.outcome === 'done') ? 'done' : 'found'];
  const { ticketNumber, company, dangerWarned } = paper;
  const street = oneLine(paper.site.address.street);
  return {
    subject: words.subject(street, company.name),
    paragraphs: [
      words.lead(street, ticketNumber),
      ...(dangerWarned === undefined ? [] : [all.danger(oneLine(dangerWarned))]),
      words.tells,
      // Where the paper says itself that it is not, there is nothing to find out by calling.
      ...(paper.complaintGone === 'no' ? [] : [all.notGone(company.phone)]),
    ],
  };
}
