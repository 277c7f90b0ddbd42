import type { Tx } from '../platform/database/database.ts';
import { handlesRefrigerant, type TaskCode, taskCodeSchema } from '../trade/index.ts';
import { type AgreedWork, agreedWorkOf, type SoldLine } from './agreed-work.ts';
import { isSince } from './lock-work.ts';

/** What is not on record yet, by which a ticket is kept from being closed. */
export type Missing =
  | { what: 'answer'; quoteId: string }
  | { what: 'outcome'; quoteId: string; findingId: string }
  | { what: 'part'; quoteId: string; findingId: string; partCode: string }
  | {
      what: 'refrigerant';
      quoteId: string;
      findingId: string;
      direction: 'charged' | 'recovered' | 'either';
    }
  | { what: 'readings_after' };

type Tables = Pick<
  Tx,
  | 'finding'
  | 'observation'
  | 'partLeftOver'
  | 'partUse'
  | 'quoteAcceptance'
  | 'quoteIssue'
  | 'quoteLine'
  | 'quoteState'
  | 'reading'
  | 'refrigerantMove'
  | 'visit'
  | 'workOutcome'
>;

/**
 * Everything that a locked ticket still lacks before it may be closed, all at once: an answer to
 * each quote that stands, an outcome of all accepted work, the parts and the refrigerant of what
 * was done, and how the system was left.
 * @param closing the last one: readings and refrigerant from before it say nothing of now
 * @param saysWhyNoReadings whether it is said why there are no readings after
 */
export async function whatIsMissing(
  tx: Tables,
  ticketId: string,
  {
    closing,
    saysWhyNoReadings,
    now,
  }: { closing: { id: string } | undefined; saysWhyNoReadings: boolean; now: Date },
): Promise<Missing[]> {
  const agreed = await agreedWorkOf(tx, ticketId);
  const quoteId = { in: agreed.map((each) => each.quoteId) };
  const outcomes = await tx.workOutcome.findMany({ where: { quoteId, strike: null } });
  const said = [
    ...(await tx.partUse.findMany({ where: { quoteId, strike: null } })),
    ...(await tx.partLeftOver.findMany({ where: { quoteId, strike: null } })),
  ];
  const visits = await tx.visit.findMany({ where: { ticketId }, select: { id: true } });
  const visitIds = visits.filter((visit) => isSince(visit, closing)).map(({ id }) => id);
  return [
    ...(await answersMissing(tx, ticketId, now)),
    ...agreed.flatMap((each) => outcomesMissing(each, outcomes)),
    ...agreed.flatMap((each) => partsMissing(each, outcomes, said)),
    ...(await refrigerantMissing(tx, outcomes.filter(isDone), visitIds)),
    ...(saysWhyNoReadings ? [] : await readingsMissing(tx, sinceLastWork(visitIds, outcomes))),
  ];
}

type Outcome = { quoteId: string; findingId: string; visitId: string; outcome: string };
/** A part that went in or stayed over. */
interface Use {
  quoteId: string;
  findingId: string;
  partCode: string;
  quantity: number | null;
}

const isDone = ({ outcome }: Outcome) => outcome === 'done';

async function answersMissing(
  tx: Pick<Tx, 'quoteState' | 'quoteIssue'>,
  ticketId: string,
  now: Date,
): Promise<Missing[]> {
  const standing = await tx.quoteState.findMany({
    where: { state: 'issued', quote: { ticketId } },
    orderBy: { quote: { number: 'asc' } },
    select: { quoteId: true, revision: true },
  });
  const valid = await tx.quoteIssue.findMany({
    where: { quote: { ticketId }, validUntil: { gt: now } },
    select: { quoteId: true, revision: true },
  });
  return standing
    .filter((each) => valid.some((issue) => isSameRevision(issue, each)))
    .map(({ quoteId }) => ({ what: 'answer', quoteId }));
}

function isSameRevision(a: Revision, b: Revision): boolean {
  return a.quoteId === b.quoteId && a.revision === b.revision;
}

interface Revision {
  quoteId: string;
  revision: number;
}

function outcomesMissing({ quoteId, lines }: AgreedWork, outcomes: readonly Outcome[]): Missing[] {
  const sold = [...new Set(lines.flatMap(({ findingIds }) => findingIds))];
  const said = outcomes.filter((each) => each.quoteId === quoteId);
  return sold
    .filter((findingId) => !said.some((each) => each.findingId === findingId))
    .map((findingId) => ({ what: 'outcome', quoteId, findingId }));
}

function partsMissing(
  { quoteId, lines }: AgreedWork,
  outcomes: readonly Outcome[],
  uses: readonly Use[],
): Missing[] {
  const done = outcomes.filter((each) => each.quoteId === quoteId && isDone(each));
  return lines
    .filter(({ kind }) => kind !== 'labor')
    .flatMap((line): Missing[] => {
      const findingId = line.findingIds.find((id) => done.some((each) => each.findingId === id));
      if (findingId === undefined) return [];
      const own = uses.filter((use) => use.quoteId === quoteId && isOf(use, line));
      return isOnRecord(line, own)
        ? []
        : [{ what: 'part', quoteId, findingId, partCode: line.code }];
    });
}

function isOf({ partCode, findingId }: Use, { code, findingIds }: SoldLine): boolean {
  return partCode === code && findingIds.includes(findingId);
}

/**
 * Whether the parts of a line are on record: every piece that was sold, as used or left over. Of
 * goods sold by measure what went in is what the scale says, and the rest was not used.
 */
function isOnRecord(line: SoldLine, uses: readonly Use[]): boolean {
  if (line.measured !== null) return uses.length > 0;
  return uses.reduce((sum, { quantity }) => sum + (quantity ?? 0), 0) >= (line.quantity ?? 0);
}

/** Work on the circuit that says neither what went in nor what came out breaks 40 CFR 82.156. */
async function refrigerantMissing(
  tx: Pick<Tx, 'finding' | 'refrigerantMove'>,
  done: readonly Outcome[],
  visitIds: readonly string[],
): Promise<Missing[]> {
  const current = done.filter(({ visitId }) => visitIds.includes(visitId));
  const findings = await tx.finding.findMany({
    where: { id: { in: current.map(({ findingId }) => findingId) } },
    select: { id: true, taskCode: true, equipment: { select: { systemId: true } } },
  });
  const moves = await tx.refrigerantMove.findMany({
    where: { visitId: { in: [...visitIds] }, strike: null },
    select: { direction: true, equipment: { select: { systemId: true } } },
  });
  return current.flatMap(({ quoteId, findingId }): Missing[] => {
    const finding = findings.find(({ id }) => id === findingId);
    const task = taskCodeSchema.parse(finding?.taskCode);
    if (!handlesRefrigerant(task)) return [];
    const direction = WAY[task] ?? 'either';
    const isWeighed = moves.some(
      (move) =>
        move.equipment.systemId === finding?.equipment.systemId &&
        (direction === 'either' || move.direction === direction),
    );
    return isWeighed ? [] : [{ what: 'refrigerant', quoteId, findingId, direction }];
  });
}

/** Which way the refrigerant goes in work that is nothing without it; other work may do with either. */
const WAY: { readonly [task in TaskCode]?: 'charged' | 'recovered' } = {
  add_refrigerant: 'charged',
  renew_charge: 'charged',
  remove_refrigerant: 'recovered',
};

/** The visits since the last at which something was done: what was read before is no reading after. */
function sinceLastWork(visitIds: readonly string[], outcomes: readonly Outcome[]): string[] {
  const worked = outcomes.filter(isDone).map(({ visitId }) => visitId);
  // Identifiers are in the order of time.
  return visitIds.filter((id) => worked.every((at) => id >= at));
}

/** What somebody only says to have seen does not show how a system was left. */
async function readingsMissing(
  tx: Pick<Tx, 'reading' | 'observation'>,
  visitIds: readonly string[],
): Promise<Missing[]> {
  const left = { visitId: { in: [...visitIds] }, phase: 'left', source: { not: 'reported' } };
  const reading = await tx.reading.findFirst({ where: left, select: { id: true } });
  if (reading !== null) return [];
  const seen = await tx.observation.findFirst({ where: left, select: { id: true } });
  return seen === null ? [{ what: 'readings_after' }] : [];
}
