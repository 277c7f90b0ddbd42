import type { Tx } from '../platform/database/database.ts';
import { type Chosen, ofQuote, optionsOf, type QuoteIssued, revisionOf } from './quote-issued.ts';
import { chosenOf, type QuoteStanding, quoteStanding } from './quote-standing.ts';

/**
 * What is told of a paper to anybody who has its fingerprint: what it is, what it comes to, and what
 * became of it. No person, no address and no word that anybody typed is ever part of it.
 */
export type IssuedPaper =
  | IssuedQuote
  | {
      kind: 'acceptance';
      number: string;
      on: Date;
      chosen: Chosen;
      /** When the yes was taken back. */
      cancelledOn: Date | undefined;
    }
  | { kind: 'decline'; number: string; on: Date }
  | { kind: 'invoice' | 'credit_memo'; number: string; on: Date; totalCents: number }
  | { kind: 'work_record'; number: string; on: Date };

export interface IssuedQuote {
  kind: 'quote';
  quoteId: string;
  revisionId: string;
  number: string;
  revision: number;
  on: Date;
  /** The accepted quote that it adds to. */
  addsTo: string | undefined;
  /** In the order in which they are offered. */
  totals: readonly Chosen[];
  standing: QuoteStanding;
}

/** Everything that was issued under a fingerprint: a quote and the answer to it share one. */
export async function issuedPapers(
  prisma: Pick<Tx, 'quoteIssue' | 'invoiceIssue' | 'creditMemo' | 'workRecord'>,
  contentHash: string,
  now: Date,
): Promise<IssuedPaper[]> {
  const where = { contentHash };
  const quotes = await prisma.quoteIssue.findMany({ where, select: ofQuote });
  const invoices = await prisma.invoiceIssue.findMany({ where, select: ofMoney });
  const memos = await prisma.creditMemo.findMany({ where, select: ofMoney });
  const records = await prisma.workRecord.findMany({ where, select: ofWork });
  return [
    ...quotes.flatMap((issue) => aroundQuote(issue, now)),
    ...invoices.map((row) => aboutMoney('invoice', row)),
    ...memos.map((row) => aboutMoney('credit_memo', row)),
    ...records.map(
      ({ closing: { closedAt, ticket } }): IssuedPaper => ({
        ...{ kind: 'work_record', number: String(ticket.number), on: closedAt },
      }),
    ),
  ];
}

/** The quote among papers that can be answered now. */
export function waitingQuote(papers: readonly IssuedPaper[]): IssuedQuote | undefined {
  return papers.find(
    (paper): paper is IssuedQuote => paper.kind === 'quote' && paper.standing.state === 'open',
  );
}

const ofMoney = { number: true, issuedAt: true, totalCents: true } as const;

const ofWork = {
  closing: { select: { closedAt: true, ticket: { select: { number: true } } } },
} as const;

/** The quote itself, and its answer if it was this revision that was answered. */
function aroundQuote(issue: QuoteIssued, now: Date): IssuedPaper[] {
  const { quote, revision } = issue;
  const number = String(quote.number);
  const { acceptance, decline } = quote;
  const papers: IssuedPaper[] = [
    {
      ...{ kind: 'quote', quoteId: quote.id, revisionId: revisionOf(issue).id },
      ...{ number, revision, on: issue.issuedAt },
      addsTo: quote.parent === null ? undefined : String(quote.parent.number),
      totals: optionsOf(issue),
      standing: quoteStanding(issue, now),
    },
  ];
  if (acceptance?.revision === revision) {
    papers.push({
      ...{ kind: 'acceptance', number, on: acceptance.acceptedAt, chosen: chosenOf(issue) },
      cancelledOn: acceptance.cancellation?.cancelledAt,
    });
  }
  if (decline?.revision === revision) {
    papers.push({ kind: 'decline', number, on: decline.declinedAt });
  }
  return papers;
}

function aboutMoney(
  kind: 'invoice' | 'credit_memo',
  { number, issuedAt, totalCents }: { number: number; issuedAt: Date; totalCents: number },
): IssuedPaper {
  return { kind, number: String(number), on: issuedAt, totalCents };
}
