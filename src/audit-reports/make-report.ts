import { localDay } from '../company/index.ts';
import { journalTip } from '../journal/index.ts';
import { inSnapshot, sqlOf, type Tx } from '../platform/database/database.ts';
import type { ReadContext } from '../platform/http/route.ts';
import { bookInForce } from '../pricebook/index.ts';
import { bookBesideWork } from './book-beside-work.ts';
import type { AuditReport } from './contract.ts';
import { importedBillsOfPeriod } from './imported-bills-of-period.ts';
import { namedAmounts, namedPatterns } from './named-patterns.ts';
import { type NameOf, namesOf } from './names-of.ts';
import { type Period, periodOf } from './period.ts';
import type { PriceSpread } from './price-spread.ts';
import { pricesOfPeriod } from './prices-of-period.ts';
import { readingsOfPeriod } from './readings-of-period.ts';
import type { ReportStore } from './report-store.ts';
import { reportedRules } from './rule-tally.ts';
import { openFlags, type SeenJobs, seeJobs } from './see-jobs.ts';
import { sharesOf } from './shares-of.ts';

/** What is asked for: local days, both included. */
export interface AskedPeriod {
  readonly from: string;
  readonly to: string;
}

/** A report with what its plots are drawn from besides. */
export interface MadeReport {
  readonly report: AuditReport;
  readonly period: Period;
  readonly spread: PriceSpread;
  readonly nameOf: NameOf;
}

/**
 * What the owner reads of the jobs that ended within a period.
 * @throws ProblemError 409 without a price book in force, 400 for a period that ends before it begins
 *   or holds too many jobs
 */
export async function makeReport(
  context: Pick<ReadContext, 'prisma' | 'now'>,
  asked: AskedPeriod,
): Promise<MadeReport> {
  const { prisma, now } = context;
  const read = await inSnapshot(prisma, (tx) => readPeriod(storeOf(tx, now), asked));
  const { look, ...beside } = read;
  const { period, seen, nameOf } = look;
  const { jobs, billedCents, openCents } = seen;
  const report = {
    ...{ from: period.firstDay, to: period.lastDay, madeAt: now.toISOString() },
    ...{ jobs, billedCents, openCents, toLookAt: toLookAt(look), shares: sharesOf(seen.tallies) },
    rules: reportedRules(seen.rules),
    // Exact chances take a while, and no transaction is open meanwhile.
    patterns: await namedPatterns(seen.tallies, nameOf),
    prices: pricesOfPeriod(seen.prices, nameOf),
    amounts: namedAmounts(seen.tallies, nameOf),
    ...beside,
  };
  return { report, period, spread: seen.prices, nameOf };
}

/** All that a report rests on, as it stood at one moment. */
async function readPeriod(store: ReportStore, asked: AskedPeriod) {
  const { sql } = store;
  const look = await seePeriod(store, asked);
  const { period, nameOf } = look;
  return {
    look,
    book: await bookBesideWork(store, period),
    readings: await readingsOfPeriod(sql, period, (id) => nameOf('technician', id)),
    importedBills: await importedBillsOfPeriod(sql, period),
    journal: await journalTip(sql),
  };
}

function storeOf(tx: Tx, now: Date): ReportStore {
  return { prisma: tx, sql: sqlOf(tx), now };
}

/** The jobs of a period as they are counted, and how everybody is called. */
export interface LookAtPeriod {
  readonly period: Period;
  readonly seen: SeenJobs;
  readonly nameOf: NameOf;
}

/**
 * The jobs alone, as they stood at one moment.
 * @throws ProblemError as `makeReport` does
 */
export function lookAtPeriod(
  { prisma, now }: Pick<ReadContext, 'prisma' | 'now'>,
  asked: AskedPeriod,
): Promise<LookAtPeriod> {
  return inSnapshot(prisma, (tx) => seePeriod(storeOf(tx, now), asked));
}

async function seePeriod(store: ReportStore, asked: AskedPeriod): Promise<LookAtPeriod> {
  const period = await periodOf(store, asked);
  const { policy } = await bookInForce(store.prisma, store.now);
  const seen = await seeJobs(store.sql, period, Number(policy.fairBandTolerance));
  return { period, seen, nameOf: await namesOf(store.sql) };
}

function toLookAt({ period, seen: { toLookAt: all }, nameOf }: LookAtPeriod) {
  return {
    jobs: all.jobs,
    first: all.first.map(({ ticketId, ticketNumber, endedAt, count, openCents, ...job }) => ({
      ...{ ticketId, ticketNumber, endedOn: localDay(endedAt, period.timeZone), openCents },
      technicianId: count.technicianId,
      technicianName: count.technicianId === null ? null : nameOf('technician', count.technicianId),
      rules: [...new Set(openFlags(job).map(({ code }) => code))],
      sentence: openFlags(job)[0]?.sentence ?? '',
    })),
  };
}
