import { z } from 'zod';
import { entryOf, type Happened } from '../billing/index.ts';
import { companyOf, localDay } from '../company/index.ts';
import { writeDollars } from '../platform/csv/write-dollars.ts';
import { writeTable } from '../platform/csv/write-table.ts';
import { day } from '../platform/http/formats.ts';
import { moneyMethodSchema } from './contract.ts';
import { type Happening, happeningsBetween } from './happenings-between.ts';
import { localDays } from './local-days.ts';
import type { Store } from './store.ts';

const DAYS_MAX = 92;
const DAY_MS = 86_400_000;

/** Which days of the books: a quarter at most, because a file is made in one piece. */
export const bookkeepingRange = z
  .strictObject({ from: day, to: day })
  .refine(({ from, to }) => from <= to, { path: ['to'], error: 'is before from' })
  .refine(({ from, to }) => Date.parse(to) - Date.parse(from) < DAYS_MAX * DAY_MS, {
    path: ['to'],
    error: `is more than ${DAYS_MAX} days after from`,
  });

const columns = ['entry', 'date', 'document', 'account', 'debit', 'credit', 'memo'];

/** The entries of local days as a CSV file: one row per posting. */
export async function entriesFile(
  { prisma, sql }: Store,
  firstDay: string,
  lastDay: string,
): Promise<Uint8Array> {
  const { timeZone } = await companyOf(prisma);
  const times = localDays(firstDay, lastDay, timeZone);
  const happened = await happeningsBetween(sql, { ...times, firstDay, lastDay });
  return writeTable(columns, rowsOf(happened, timeZone));
}

function rowsOf(happened: readonly Happening[], timeZone: string): string[][] {
  const entries = happened
    .map((happening) => ({ happening, postings: entryOf(asPosted(happening)) }))
    // What moves no money is no entry.
    .filter(({ postings }) => postings.length > 0);
  return entries.flatMap(({ happening, postings }, at) =>
    postings.map(({ account, debitCents, creditCents }) => [
      String(at + 1),
      localDay(happening.at, timeZone),
      `${DOCUMENT[happening.kind]} ${happening.number}`,
      account,
      debitCents === 0 ? '' : writeDollars(debitCents),
      creditCents === 0 ? '' : writeDollars(creditCents),
      [happening.who, happening.note].filter((words) => words !== null).join('; '),
    ]),
  );
}

const DOCUMENT: Record<Happening['kind'], string> = {
  billed: 'Invoice',
  credited: 'Credit memo',
  paid: 'Receipt',
  voided: 'Void of receipt',
  refunded: 'Refund on invoice',
  claim_credited: 'Warranty credit on ticket',
};

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
