import pg from 'pg';
import { type CompanyPlan, planCompany } from '../../seed/big-company/company-plan.ts';
import type { LoadOptions } from '../../seed/big-company/load-big-company.ts';
import { loadBigCompany } from '../../seed/big-company/load-big-company.ts';
import { oftenAmong } from '../../seed/big-company/wrongs/pick-wrong.ts';
import type { Truth, WrongKind, WrongShape } from '../../seed/big-company/wrongs/truth.ts';
import { createBenchDatabase } from './bench-database.ts';

/** A flag as far as it is held against the truth. */
export interface RaisedFlag {
  readonly ticketId: string;
  readonly ruleCode: string;
}

/** What judging some tickets gave. */
export interface Judged {
  readonly flags: readonly RaisedFlag[];
  /** What all flags of a ticket together take off; tickets without any are left out. */
  readonly overCents: ReadonlyMap<string, number>;
}

/** Judges tickets, some at a time; opened on a database, and closed again. */
export interface Judge {
  judge(ticketIds: readonly string[]): Promise<Judged>;
  /** The technicians whose readings stand out, over all jobs. */
  habits(): Promise<readonly string[]>;
  /** The technicians whose jobs ask for a look more often than others', over all jobs. */
  standOut(): Promise<readonly string[]>;
  close(): Promise<void>;
}

export interface AuditCompanyBench {
  tickets: number;
  wrongs: number;
  loadTicketsPerSecond: number;
  judged: number;
  judgeTicketsPerSecond: number;
  /** Of those who invent readings, how many stand out; and how many others do. */
  inventors: StandingOut;
  /** Of those who do wrong far more often than others. */
  often: StandingOut;
  kinds: readonly KindFound[];
  rules: readonly RuleRaised[];
}

/** How many there are, how many of them stand out, and how many others do. */
interface StandingOut {
  told: number;
  found: number;
  false: number;
}

/** How many wrongs of a kind were found, and whether for the right amount. */
export interface KindFound {
  kind: WrongKind;
  shape: WrongShape | undefined;
  told: number;
  missed: number;
  /** Of those found, where what is taken off is to the cent what was too much; or only a look is asked for. */
  toTheCent: number;
  missedTickets: readonly number[];
  offTickets: readonly string[];
}

/** What a rule raised on tickets of which nothing wrong is told. */
export interface RuleRaised {
  ruleCode: string;
  flags: number;
  false: number;
  falseTickets: readonly number[];
}

/**
 * Makes a company with wrongs, has every ticket of it that is over judged, and holds what was flagged
 * against what is known to be wrong.
 */
export async function benchAuditCompany(
  size: Pick<LoadOptions, 'tickets' | 'seed' | 'turns'> & { wrongs: number },
  open: (url: string) => Promise<Judge>,
): Promise<AuditCompanyBench> {
  const database = await createBenchDatabase();
  try {
    const truths: Truth[] = [];
    const report = await loadBigCompany({
      ...{ ...size, journal: false, ownerUrl: database.url },
      onTruth: (truth) => truths.push(truth),
    });
    const judge = await open(database.url);
    const { judged, seconds, ...found } = await judgeAll(judge, database.url);
    const habits = new Set(await judge.habits());
    const standOut = new Set(await judge.standOut());
    await judge.close();
    return {
      ...{ tickets: report.tickets, wrongs: truths.length, judged: judged.length },
      loadTicketsPerSecond: report.ticketsPerSecond,
      judgeTicketsPerSecond: judged.length / seconds,
      inventors: inventorsAmong(truths, habits),
      often: amongThem(oftenOf(planCompany({ ...size, journal: false })), standOut),
      ...compareWithTruth(truths, found, new Map(judged.map(({ id, number }) => [id, number]))),
    };
  } finally {
    await database.drop();
  }
}

function inventorsAmong(truths: readonly Truth[], standOut: ReadonlySet<string>) {
  const invented = truths.filter(({ kind }) => kind === 'invented_readings');
  return amongThem(new Set(invented.map(({ technicianId }) => technicianId)), standOut);
}

function oftenOf({ technicians }: CompanyPlan): ReadonlySet<string> {
  return new Set(oftenAmong(technicians).map(({ id }) => id));
}

function amongThem(told: ReadonlySet<string>, standOut: ReadonlySet<string>): StandingOut {
  const found = [...standOut].filter((id) => told.has(id)).length;
  return { told: told.size, found, false: standOut.size - found };
}

/** Which rules are to find a kind. Invented readings show over many jobs, and in none of them alone. */
const foundBy: Record<WrongKind, readonly string[]> = {
  reset_billed_as_repair: ['reset_billed_as_repair'],
  line_without_finding: ['line_without_finding'],
  price_above_ceiling: ['above_ceiling'],
  padded_minutes: ['differs_from_book'],
  padded_part_cost: ['differs_from_book'],
  fee_not_credited: ['fee_not_credited'],
  fee_charged_twice: ['fee_charged_twice'],
  warranted_part_charged: ['warranted_part_charged'],
  recall_charged: ['recall_charged'],
  duplicate_part: ['duplicate_part'],
  parts_not_used: ['parts_not_used'],
  refrigerant_without_record: ['refrigerant_without_record'],
  refrigerant_without_certificate: ['refrigerant_without_record'],
  work_before_acceptance: ['work_before_yes'],
  wrong_tax: ['tax_wrong'],
  cancelled_after_time_on_site: ['cancelled_after_time_on_site'],
  readings_after_quote: ['reading_after_quote'],
  access_charged_twice: ['access_charged_twice'],
  after_hours_by_day: ['differs_from_book', 'above_ceiling'],
  part_failed_again: ['duplicate_part'],
  invented_readings: [],
};

/** A second part may have been needed after all, so its rule names no amount. */
const asksOnly: readonly WrongKind[] = ['duplicate_part', 'part_failed_again'];

/**
 * Misses and wrong amounts by kind, false flags by rule. A second flag on a ticket where something is
 * wrong is not counted as false: a wrong price may well break two rules.
 */
export function compareWithTruth(
  truths: readonly Truth[],
  { flags, overCents }: Judged,
  numbers: ReadonlyMap<string, number>,
): Pick<AuditCompanyBench, 'kinds' | 'rules'> {
  const raised = new Map<string, Set<string>>();
  for (const { ticketId, ruleCode } of flags) {
    raised.set(ticketId, (raised.get(ticketId) ?? new Set()).add(ruleCode));
  }
  const bent = new Set(truths.map(({ ticketId }) => ticketId));
  const kinds = [...byKindAndShape(truths)].map((told) => kindFound(told, raised, overCents));
  const ruleCodes = [...new Set(flags.map(({ ruleCode }) => ruleCode))].sort();
  const rules = ruleCodes.map((ruleCode): RuleRaised => {
    const own = flags.filter((flag) => flag.ruleCode === ruleCode);
    const falsely = own.filter(({ ticketId }) => !bent.has(ticketId));
    const falseTickets = falsely.map(({ ticketId }) => numbers.get(ticketId) ?? 0);
    return { ruleCode, flags: own.length, false: falsely.length, falseTickets };
  });
  return { kinds, rules };
}

/** What is told of each kind in each shape, of those that show in one job. */
function byKindAndShape(truths: readonly Truth[]): (readonly [Truth, ...Truth[]])[] {
  const groups = new Map<string, [Truth, ...Truth[]]>();
  for (const truth of truths) {
    const { kind, shape = '' } = truth;
    if (foundBy[kind].length === 0) continue;
    const known = groups.get(`${kind} ${shape}`);
    if (known === undefined) groups.set(`${kind} ${shape}`, [truth]);
    else known.push(truth);
  }
  return [...groups].toSorted(([one], [other]) => (one < other ? -1 : 1)).map(([, told]) => told);
}

function kindFound(
  truths: readonly [Truth, ...Truth[]],
  raised: ReadonlyMap<string, ReadonlySet<string>>,
  overCents: ReadonlyMap<string, number>,
): KindFound {
  const { kind, shape } = truths[0];
  const isFound = ({ ticketId }: Truth) =>
    foundBy[kind].some((ruleCode) => raised.get(ticketId)?.has(ruleCode));
  const missed = truths.filter((truth) => !isFound(truth));
  const found = truths.filter(isFound);
  const isOff = ({ ticketId, chargedCents, rightCents }: Truth) =>
    !asksOnly.includes(kind) && (overCents.get(ticketId) ?? 0) !== chargedCents - rightCents;
  const off = found.filter(isOff);
  return {
    ...{ kind, shape, told: truths.length },
    ...{ missed: missed.length, toTheCent: found.length - off.length },
    missedTickets: missed.map(({ ticketNumber }) => ticketNumber),
    offTickets: off.map(
      ({ ticketId, ticketNumber, chargedCents, rightCents }) =>
        `${ticketNumber}: ${overCents.get(ticketId) ?? 0} for ${chargedCents - rightCents}`,
    ),
  };
}

const TICKETS_AT_A_TIME = 100;

async function judgeAll(judge: Judge, url: string) {
  const judged = await endedTickets(url);
  const startedAt = process.hrtime.bigint();
  const flags: RaisedFlag[] = [];
  const overCents = new Map<string, number>();
  for (let at = 0; at < judged.length; at += TICKETS_AT_A_TIME) {
    const some = await judge.judge(judged.slice(at, at + TICKETS_AT_A_TIME).map(({ id }) => id));
    flags.push(...some.flags);
    for (const [ticketId, cents] of some.overCents) overCents.set(ticketId, cents);
  }
  const seconds = Number(process.hrtime.bigint() - startedAt) / 1e9;
  return { judged, seconds, flags, overCents };
}

async function endedTickets(url: string): Promise<{ id: string; number: number }[]> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  const { rows } = await client.query<{ id: string; number: number }>(`
    SELECT id, number FROM ticket WHERE state IN ('closed', 'cancelled', 'resolved_by_phone')
    ORDER BY id`);
  await client.end();
  return rows;
}

/** The table of it, as it is printed. */
export function auditCompanyLines(bench: AuditCompanyBench): string {
  const { tickets, wrongs, judged, loadTicketsPerSecond, judgeTicketsPerSecond } = bench;
  const { inventors, often } = bench;
  const kinds = bench.kinds.map(
    ({ kind, shape, told, missed, toTheCent }) => `
  ${nameOf(kind, shape).padEnd(42)} ${count(told)} ${count(missed)} ${count(toTheCent)}`,
  );
  const rules = bench.rules.map(
    (rule) => `
  ${rule.ruleCode.padEnd(42)} ${count(rule.flags)} ${count(rule.false)}`,
  );
  return `
A company of ${tickets} tickets with ${wrongs} wrongs, loaded at ${Math.round(loadTicketsPerSecond)} tickets/s
  ${judged} judged at ${Math.round(judgeTicketsPerSecond)} tickets/s
  ${inventors.found} of ${inventors.told} who invent readings stand out, and ${inventors.false} of the others
  ${often.found} of ${often.told} who do wrong often stand out by their jobs, and ${often.false} of the others
  ${'what is wrong'.padEnd(42)}   told missed  to the cent${kinds.join('')}
  ${'rule'.padEnd(42)}  flags  false${rules.join('')}`;
}

function nameOf(kind: WrongKind, shape: WrongShape | undefined): string {
  return shape === undefined ? kind : `${kind} (${shape})`;
}

function count(value: number): string {
  return String(value).padStart(6);
}
