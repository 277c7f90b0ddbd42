import {
  type BillAsRead,
  billFactsOf,
  currentAuditRuleset,
  type FairAnswer,
  type FairBook,
  type FairTerms,
  fairBookOf,
  judgeJob,
} from '../auditing/index.ts';
import { companyOf } from '../company/index.ts';
import type { Sql, Tx } from '../platform/database/database.ts';
import { bookInForce, readTaxRules, storedContent } from '../pricebook/index.ts';
import { cents, type TaxRule } from '../pricing/index.ts';
import type { BillContent, KeptJudgement } from './contract.ts';
import { periodOfBill } from './period-of-bill.ts';
import { minutesBetween, readClock } from './read-clock.ts';

/** A bill as it is kept, without its judgement. */
export interface KeptBill {
  id: string;
  /** Local day. */
  billedOn: string;
  content: BillContent;
  chargedCents: number;
}

/** How bills are judged now: by the rules of today and the price book in force. */
export interface BillJudge {
  rulesetVersion: string;
  priceBookId: string;
  judge(bill: KeptBill): { judgement: KeptJudgement; flagCount: number; overCents: number };
}

/** What it is read from, in a transaction or not. */
export interface JudgeSources {
  prisma: Pick<Tx, 'priceBookVersion' | 'company' | 'taxRule'>;
  sql: Sql;
  now: Date;
}

/**
 * Everything that bills are judged by, read once for all of them.
 * @throws ProblemError 409 when no price book is in force
 */
export async function billJudge({ prisma, sql, now }: JudgeSources): Promise<BillJudge> {
  const { id: priceBookId } = await bookInForce(prisma, now);
  const content = await storedContent(sql, priceBookId);
  if (content === undefined) throw new Error('a price book in force has a content');
  const { defaultJurisdiction } = await companyOf(prisma);
  const taxOn = await readTaxRules(prisma, [defaultJurisdiction]);
  const book = fairBookOf(content);
  const priced = new Map<string, FairAnswer>();
  return {
    rulesetVersion: currentAuditRuleset.version,
    priceBookId,
    judge: (bill) => {
      return judgeBill(bill, {
        book,
        ...periodOfBill(bill, content.periods),
        tax: taxOn(defaultJurisdiction, bill.billedOn),
        priced,
      });
    },
  };
}

interface Terms extends Pick<FairTerms, 'period' | 'orPeriods' | 'isByFee'> {
  book: FairBook;
  /** Null where there was none on the day. */
  tax: TaxRule | null;
  priced: Map<string, FairAnswer>;
}

function judgeBill(bill: KeptBill, { tax, ...terms }: Terms) {
  const facts = billFactsOf(asRead(bill), { ...terms, ...(tax && { tax }) });
  const { flags, cannotJudge, overCents } = judgeJob(facts);
  const judgement: KeptJudgement = {
    flags: flags.map(({ corrections: _, sentences, ...flag }) => ({
      ...flag,
      sentences: [...sentences],
    })),
    cannotJudge: cannotJudge.map(({ ruleCode, missing }) => ({ ruleCode, missing: [...missing] })),
    fair: fairOf(facts.bill?.fair),
    notPriced: [...(facts.bill?.notPriced ?? [])],
  };
  return { judgement, flagCount: flags.length, overCents };
}

function asRead({ id, billedOn, content, chargedCents }: KeptBill): BillAsRead {
  const { found, done, parts, hours, arrived, left, feeCents, laborCents, taxCents } = content;
  const clockMinutes = minutesOnSite(arrived, left);
  return {
    billId: id,
    billedOn,
    found,
    done,
    parts: parts.map(({ name, quantity, ...part }) => ({
      name,
      quantity,
      ...(part.unitCostCents !== undefined && { unitCostCents: cents(part.unitCostCents) }),
      ...(part.chargedCents !== undefined && { chargedCents: cents(part.chargedCents) }),
    })),
    ...(hours !== null && { hours }),
    ...(clockMinutes !== undefined && { clockMinutes }),
    ...(feeCents !== null && { feeCents: cents(feeCents) }),
    ...(laborCents !== null && { laborCents: cents(laborCents) }),
    ...(taxCents !== null && { taxCents: cents(taxCents) }),
    chargedCents: cents(chargedCents),
  };
}

function minutesOnSite(arrived: string | null, left: string | null): number | undefined {
  const from = arrived === null ? undefined : readClock(arrived);
  const to = left === null ? undefined : readClock(left);
  return from === undefined || to === undefined ? undefined : minutesBetween(from, to);
}

function fairOf(fair: NonNullable<ReturnType<typeof billFactsOf>['bill']>['fair']) {
  if (fair === undefined) return null;
  const { option, fromCents = option.totalCents, taskCodes, choices = [] } = fair;
  return {
    totalCents: option.totalCents,
    fromCents,
    taxCents: option.taxCents,
    lines: option.lines.map(({ kind, description, amountCents }) => ({
      kind,
      description,
      amountCents,
    })),
    taskCodes: [...taskCodes],
    choices: [...choices],
  };
}
