import { writeDollars } from '../platform/csv/write-dollars.ts';
import { writeTable } from '../platform/csv/write-table.ts';
import type { AuditReport } from './contract.ts';

/** A report as a CSV file: a row for each figure of each rule, share, pattern, price and amount. */
export function reportTable(report: AuditReport): Uint8Array {
  return writeTable(COLUMNS, [...rows(report)].map(inColumns));
}

type Column = (typeof COLUMNS)[number];
type Row = Partial<Record<Column, string>>;

function* rows(report: AuditReport): Generator<Row> {
  const { rules, shares, patterns, prices, amounts, importedBills } = report;
  for (const rule of rules) {
    yield {
      ...{ what: 'rule', code: rule.code, name: rule.statement, count: String(rule.open) },
      of: String(rule.judged),
      ...{ amount: writeDollars(rule.openCents), accepted: String(rule.accepted) },
      ...{ given_back: writeDollars(rule.givenBackCents), dismissed: String(rule.dismissed) },
      ...{ not_judged: String(rule.notJudged), missing: rule.missing.join(' ') },
    };
  }
  for (const { measure, happened, ...share } of shares) {
    yield {
      ...{ what: 'share', code: measure, by: 'all', name: happened },
      ...{ count: String(share.count), of: String(share.trials) },
      ...{ share_from: figure(share.shareFrom), share_to: figure(share.shareTo) },
    };
  }
  for (const { work, jobs, above, aboveCents, putRight, notJudged } of prices.works) {
    yield {
      ...{ what: 'price', code: 'above_price', by: 'work', name: work },
      ...{ count: String(above), of: String(jobs - notJudged), amount: writeDollars(aboveCents) },
      ...{ accepted: String(putRight), not_judged: String(notJudged) },
    };
  }
  for (const { origin, bills, flagged, overCents, notPriced, notLookedAt } of importedBills) {
    yield {
      ...{ what: 'imported_bills', code: origin, count: String(flagged), of: String(bills) },
      ...{ amount: writeDollars(overCents), not_judged: String(notPriced + notLookedAt) },
    };
  }
  for (const { measure, by, rows: all } of patterns) {
    for (const row of all) {
      yield {
        ...{ what: 'pattern', code: measure, by, name: row.name },
        ...{ count: String(row.count), of: String(row.trials) },
        ...{ share_from: figure(row.shareFrom), share_to: figure(row.shareTo) },
        ...{ compared_count: String(row.comparedCount), compared_of: String(row.comparedTrials) },
        ...{ expected: row.expectedCount.toFixed(2), standing: row.standing },
      };
    }
  }
  for (const row of amounts) {
    yield {
      ...{ what: 'amount', code: 'billed', by: 'technician', name: row.name },
      ...{ of: String(row.jobs), amount: writeDollars(row.billedCents) },
      ...{ expected: writeDollars(row.expectedCents), standing: row.standing },
    };
  }
}

function inColumns(row: Row): string[] {
  return COLUMNS.map((column) => row[column] ?? '');
}

const COLUMNS = [
  'what',
  'code',
  'by',
  'name',
  'count',
  'of',
  'share_from',
  'share_to',
  'compared_count',
  'compared_of',
  'expected',
  'standing',
  'amount',
  'accepted',
  'given_back',
  'dismissed',
  'not_judged',
  'missing',
] as const;

function figure(share: number | null): string {
  return share === null ? '' : share.toFixed(4);
}
