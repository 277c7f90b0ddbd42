import { z } from 'zod';
import { entryOf, type Happened } from '../billing/index.ts';
import { companyOf, localDay, localDays } from '../company/index.ts';
import { writeDollars } from '../platform/csv/write-dollars.ts';
import { writeTable } from '../platform/csv/write-table.ts';
import { day } from '../platform/http/formats.ts';
import { wrongQuery } from '../platform/http/problem.ts';
import { moneyMethodSchema } from './contract.ts';
import { type Happening, happeningsBetween } from './happenings-between.ts';
import type { Store } from './store.ts';

const DAYS_MAX = 92;
const DAY_MS = 86_400_000;

/** Which days of the books. */
export const bookkeepingQuery = z.strictObject({
  from: day.optional().meta({ description: 'The day of `to` unless told.' }),
  to: day.optional().meta({
    description: `The company’s today unless told; less than ${DAYS_MAX} days after \`from\`.`,
  }),
});

const columns = ['entry', 'date', 'document', 'account', 'debit', 'credit', 'memo'];

/** The entries of some days as a file, with the days it holds. */
export interface EntriesFile {
  from: string;
  to: string;
  bytes: Uint8Array;
}

/**
 * The entries of local days as a CSV file: one row per posting, on the day it was written down.
 * @throws ProblemError 400 when the days are out of order or more than a quarter
 */
export async function entriesFile(
  { prisma, sql }: Store,
  asked: z.output<typeof bookkeepingQuery>,
  now: Date,
): Promise<EntriesFile> {
  const { timeZone } = await companyOf(prisma);
  const to = asked.to ?? localDay(now, timeZone);
  const from = asked.from ?? to;
  refuseRange(from, to);
  const happened = await happeningsBetween(sql, localDays(from, to, timeZone));
  return { from, to, bytes: writeTable(columns, rowsOf(happened, timeZone)) };
}

/** A quarter at most, because a file is made in one piece. */
function refuseRange(from: string, to: string): void {
  if (from > to) throw wrongQuery('/to', 'wrong_days', 'is before from');
  if (Date.parse(to) - Date.parse(from) < DAYS_MAX * DAY_MS) return;
  throw wrongQuery('/to', 'wrong_days', `is more than ${DAYS_MAX} days after from`);
}

function rowsOf(happened: readonly Happening[], timeZone: string): string[][] {
  // What moves no money has no postings and is no entry.
  return happened.flatMap((happening) => {
    const { entry, document } = namesOf(happening);
    const date = localDay(happening.at, timeZone);
    return entryOf(asPosted(happening)).map(({ account, debitCents, creditCents }) => [
      entry,
      date,
      document,
      account,
      debitCents === 0 ? '' : writeDollars(debitCents),
      creditCents === 0 ? '' : writeDollars(creditCents),
      memoOf(happening, date, timeZone),
    ]);
  });
}

/** An entry is named by its document, so whoever imports it a second time can see that. */
function namesOf({ kind, number, ordinal }: Happening): { entry: string; document: string } {
  switch (kind) {
    case 'billed':
      return { entry: `invoice-${number}`, document: `Invoice ${number}` };
    case 'credited':
      return { entry: `credit-memo-${number}`, document: `Credit memo ${number}` };
    case 'paid':
      return { entry: `receipt-${number}`, document: `Receipt ${number}` };
    case 'voided':
      return { entry: `receipt-${number}-void`, document: `Void of receipt ${number}` };
    case 'refunded':
      return {
        entry: `invoice-${number}-refund-${ordinal}`,
        document: `Refund ${ordinal} on invoice ${number}`,
      };
    case 'claim_credited':
      return {
        entry: `ticket-${number}-warranty-${ordinal}`,
        document: `Warranty credit ${ordinal} on ticket ${number}`,
      };
  }
}

/** Who and what, and the day it happened where that is another one than it was written down on. */
function memoOf({ who, note, toldAt }: Happening, date: string, timeZone: string): string {
  const told = toldAt && localDay(toldAt, timeZone);
  const other = told === null || told === date ? null : `of ${told}`;
  return [who, note, other].filter((words) => words !== null).join('; ');
}

function asPosted({ kind, documents, method, amountCents }: Happening): Happened {
  switch (kind) {
    case 'billed':
    case 'credited':
      return { kind, documents: documents ?? [] };
    case 'paid':
    case 'voided':
    case 'refunded':
      return { kind, method: moneyMethodSchema.parse(method), amountCents };
    case 'claim_credited':
      return { kind, amountCents };
  }
}
