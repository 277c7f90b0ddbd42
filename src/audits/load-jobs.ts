import type { JobFacts } from '../auditing/index.ts';
import { sha256 } from '../platform/sha256.ts';
import { openBookShelf } from './book-shelf.ts';
import { knownTaxRules } from './known-tax-rules.ts';
import type { KnownTerms } from './known-terms.ts';
import { type ReadDocument, readDocuments } from './read-documents.ts';
import { readEarlierRepairs } from './read-earlier-repairs.ts';
import { readFacts } from './read-facts.ts';
import { readFindings } from './read-findings.ts';
import { type EndedTicket, endedTicket } from './read-tickets.ts';
import { readVisit, refrigerantOf } from './read-visits.ts';
import { readWork } from './read-work.ts';
import { rowsBy } from './rows-by.ts';
import type { Store } from './store.ts';

/** What is known of a ticket that is over. */
export interface LoadedJob {
  readonly ticketId: string;
  readonly endedAt: Date;
  readonly facts: JobFacts;
  /** Of all facts: the same hash is the same job. */
  readonly factsHash: string;
}

/**
 * Gathers what is known of tickets, in the order of their identifiers, with one statement
 * however many there are; price books and tax rules are read once and kept in `known`.
 * @returns without tickets that are not over
 */
export async function loadJobs(
  { prisma, sql }: Store,
  ticketIds: readonly string[],
  known: KnownTerms,
): Promise<LoadedJob[]> {
  const rows = await readFacts(sql, ticketIds);
  const tickets = rows.tickets.map(endedTicket);
  if (tickets.length === 0) return [];
  const books = openBookShelf(prisma, known.books, rows.books);
  const taxRules = await knownTaxRules(prisma, known.taxRules, rows.taxPrints);
  const terms = { books, taxRules, timeZone: rows.timeZone };
  const documents = rowsBy(await readDocuments(rows, terms), ticketOf);
  const findings = rowsBy(await readFindings(rows.findings, books), ticketOf);
  const visits = rowsBy(rows.visits.map(readVisit), ticketOf);
  const work = readWork(rows);
  const repairs = rowsBy(await readEarlierRepairs(rows.repairs, books), ticketOf);
  return tickets.map((ticket) => {
    const read = documents(ticket.id);
    return loadedJob(ticket, read, {
      ended: ticket.ended,
      documents: read.map(({ document }) => document),
      findings: findings(ticket.id).map(({ finding }) => finding),
      visits: visits(ticket.id).map(({ visit }) => visit),
      work: work(ticket.id),
      earlierRepairs: repairs(ticket.id).map(({ repair }) => repair),
      refrigerant: refrigerantOf(visits(ticket.id)),
    });
  });
}

function loadedJob(
  { id, endedAt }: EndedTicket,
  read: readonly ReadDocument[],
  facts: JobFacts,
): LoadedJob {
  // Price books and inputs are large, and are told apart by what stands for them.
  const documents = read.map(({ document: { book: _, price, taxing: __, ...rest }, traits }) => ({
    ...rest,
    ...traits,
    ...(price && { rulesetVersion: price.rulesetVersion, optionAt: price.optionAt }),
  }));
  return {
    ...{ ticketId: id, endedAt, facts },
    // All of it is put together here and by the readers, so its keys have one order as they are.
    factsHash: sha256(JSON.stringify({ ...facts, documents })),
  };
}

function ticketOf({ ticketId }: { readonly ticketId: string }): string {
  return ticketId;
}
