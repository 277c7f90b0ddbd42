import type { Sql } from '../platform/database/database.ts';
import { TAX_PRINTS, type TaxPrint } from './known-tax-rules.ts';
import {
  DOCUMENTS,
  type DocumentRow,
  LINES,
  type LineRow,
  MEMO_LINES,
  type MemoLineRow,
} from './read-documents.ts';
import { REPAIRS, type RepairRow } from './read-earlier-repairs.ts';
import { FINDINGS, type FindingRow } from './read-findings.ts';
import { TICKETS, type TicketRow } from './read-tickets.ts';
import { gaugeQuantities, VISITS, type VisitRow } from './read-visits.ts';
import { OUTCOMES, type OutcomeRow, USES, type UseRow } from './read-work.ts';

/** Everything that is stored of some tickets, as rows. Instants are text, as JSON has them. */
export interface FactRows {
  readonly timeZone: string;
  readonly books: readonly BookHead[];
  readonly taxPrints: readonly TaxPrint[];
  readonly tickets: readonly TicketRow[];
  readonly documents: readonly DocumentRow[];
  readonly lines: readonly LineRow[];
  readonly memoLines: readonly MemoLineRow[];
  readonly findings: readonly FindingRow[];
  readonly visits: readonly VisitRow[];
  readonly outcomes: readonly OutcomeRow[];
  readonly uses: readonly UseRow[];
  readonly repairs: readonly RepairRow[];
}

/** When a published price book is in force from, and since when it is known. */
export interface BookHead {
  readonly id: string;
  readonly effectiveFrom: string;
  readonly publishedAt: string;
}

/**
 * Reads all of it with one statement: what one ticket costs at its closing is above all how often
 * the database is asked.
 * @throws Error where no company has been set up
 */
export async function readFacts(sql: Sql, ticketIds: readonly string[]): Promise<FactRows> {
  const { rows } = await sql.query<FactRows>(FACTS, [ticketIds, gaugeQuantities]);
  const [facts] = rows;
  if (facts === undefined) throw new Error('the company has not been set up yet');
  return facts;
}

const BOOKS = `
  SELECT id, effective_from AS "effectiveFrom", published_at AS "publishedAt"
  FROM price_book_version ORDER BY effective_from DESC, number DESC`;

const LISTS: Readonly<Record<Exclude<keyof FactRows, 'timeZone'>, string>> = {
  books: BOOKS,
  taxPrints: TAX_PRINTS,
  tickets: TICKETS,
  documents: DOCUMENTS,
  lines: LINES,
  memoLines: MEMO_LINES,
  findings: FINDINGS,
  visits: VISITS,
  outcomes: OUTCOMES,
  uses: USES,
  repairs: REPAIRS,
};

const FACTS = `
  SELECT time_zone AS "timeZone", ${Object.entries(LISTS)
    .map(([name, list]) => `${listOf(list)} AS "${name}"`)
    .join(', ')}
  FROM company WHERE id = 1`;

/** The rows of a statement in their order. */
function listOf(statement: string): string {
  return `(SELECT coalesce(json_agg(each), '[]') FROM (${statement}) each)`;
}
