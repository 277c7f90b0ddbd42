import { companyOf } from '../company/index.ts';
import {
  describeFinding,
  observationsAt,
  type WholeFinding,
  weighAfter,
} from '../evidence/index.ts';
import type { Tx } from '../platform/database/database.ts';
import type { Prisma } from '../platform/database/generated/client.ts';
import type { FoundForPaper } from '../quotes/index.ts';
import { type Criterion, evidenceSchema } from '../trade/index.ts';

/** Everything that a record of the work tells of; nothing else is looked up. */
export type RecordFacts = Awaited<ReturnType<typeof recordFacts>>;

/** A finding with what came of it. */
export interface FoundAndDone {
  finding: FoundForPaper;
  /** As the readings after the work have it. */
  after: readonly Criterion[];
  outcome: Outcome | undefined;
  parts: readonly UsedPart[];
  leftOver: readonly LeftPart[];
}

type Outcome = Prisma.WorkOutcomeGetPayload<object>;
type UsedPart = Prisma.PartUseGetPayload<object> & SoldAs;
type LeftPart = Prisma.PartLeftOverGetPayload<object> & SoldAs;

/** What the quote that sold it calls a part, its unit, and what kind of part it is, if known. */
export interface SoldAs {
  name: string;
  unit: string | null;
  category: string | undefined;
}

/**
 * What is on record of a ticket since its last closing before this one, as of this one. Identifiers
 * are in the order of time.
 */
export async function recordFacts(tx: Tx, closingId: string) {
  const closing = await tx.ticketClosing.findUniqueOrThrow({
    where: { id: closingId },
    include: {
      ticket: { include: { site: { include: { occupant: true } } } },
    },
  });
  const { ticketId, sequence } = closing;
  const before = await tx.ticketClosing.findUnique({
    where: { ticketId_sequence: { ticketId, sequence: sequence - 1 } },
    include: { callback: true },
  });
  const visits = await tx.visit.findMany({
    where: {
      ...{ ticketId, state: 'finished' },
      id: { lt: closingId, ...(before && { gt: before.id }) },
    },
    orderBy: [{ arrivedAt: 'asc' }, { id: 'asc' }],
    include: { technician: { select: { id: true, name: true } } },
  });
  const at = { visitId: { in: visits.map(({ id }) => id) } };
  const outcomes = await tx.workOutcome.findMany({ where: at, orderBy: { findingId: 'asc' } });
  const findings = await tx.finding.findMany({
    where: { OR: [at, { id: { in: outcomes.map(({ findingId }) => findingId) } }] },
    orderBy: { id: 'asc' },
    include: { parts: true, override: true },
  });
  const unstruck = { where: { ...at, strike: null }, orderBy: { id: 'asc' } } as const;
  const soldAs = await salesOf(tx, outcomes);
  const parts = (await tx.partUse.findMany(unstruck)).map((use) => ({ ...use, ...soldAs(use) }));
  const leftOver = (await tx.partLeftOver.findMany(unstruck)).map((part) => ({
    ...part,
    ...soldAs(part),
  }));
  const moves = await tx.refrigerantMove.findMany({
    where: { ...at, strike: null },
    orderBy: { id: 'asc' },
    include: { equipment: { include: { system: true } } },
  });
  const machines = [...findings, ...moves].map(({ equipmentId }) => equipmentId);
  const equipment = await tx.equipment.findMany({
    where: { id: { in: machines } },
    include: { system: true },
    orderBy: { id: 'asc' },
  });
  const left = { ...at, phase: 'left', source: { not: 'reported' } };
  const works: FoundAndDone[] = [];
  for (const finding of lastOfEach(findings, outcomes)) {
    works.push({
      finding: await described(tx, finding),
      after: (await weighAfter(tx, finding, at.visitId.in)).criteria,
      outcome: outcomes.find(({ findingId }) => findingId === finding.id),
      parts: parts.filter(({ findingId }) => findingId === finding.id),
      leftOver: leftOver.filter(({ findingId }) => findingId === finding.id),
    });
  }
  return {
    company: await companyOf(tx),
    closing,
    /** What reopened the ticket, or what the customer first called about. */
    complaint: before?.callback?.complaint ?? closing.ticket.complaint,
    visits,
    works,
    /** Somebody may have said why there are none before they were taken after all. */
    readAfter: await tx.reading.findMany({ where: left, orderBy: { id: 'asc' } }),
    moves,
    equipment,
  };
}

async function described(tx: Tx, finding: WholeFinding): Promise<FoundForPaper> {
  const observations = await observationsAt(tx, finding.visitId);
  const { readings } = evidenceSchema.parse(finding.evidence);
  return { ...describeFinding(finding, observations), readings };
}

/** What was written twice of one machine is told once, as it was found last; or as it was mended. */
function lastOfEach(findings: readonly WholeFinding[], outcomes: readonly Outcome[]) {
  const keyOf = ({ equipmentId, faultCode, taskCode }: WholeFinding) =>
    `${equipmentId} ${faultCode} ${taskCode}`;
  const isSold = ({ id }: WholeFinding) => outcomes.some(({ findingId }) => findingId === id);
  return findings.filter((finding, at) => {
    if (isSold(finding)) return true;
    const others = findings.filter((other) => other !== finding && keyOf(other) === keyOf(finding));
    return !others.some((other) => isSold(other) || findings.indexOf(other) > at);
  });
}

/** As what each part of these yeses was sold. */
async function salesOf(tx: Tx, outcomes: readonly { quoteId: string }[]) {
  const yeses = await tx.quoteAcceptance.findMany({
    where: { quoteId: { in: outcomes.map(({ quoteId }) => quoteId) } },
    select: {
      quoteId: true,
      optionId: true,
      quote: { select: { revisions: true } },
      revision: true,
    },
  });
  const lines = await tx.quoteLine.findMany({
    where: {
      optionId: { in: yeses.map(({ optionId }) => optionId) },
      kind: { in: ['part', 'good'] },
    },
    select: { optionId: true, code: true, description: true, unit: true },
  });
  const books = yeses.flatMap(({ quote, revision }) =>
    quote.revisions.filter(({ number }) => number === revision),
  );
  const known = await tx.priceBookPart.findMany({
    where: {
      versionId: { in: books.map(({ priceBookVersionId }) => priceBookVersionId) },
      code: { in: lines.map(({ code }) => code) },
    },
    select: { code: true, category: true },
  });
  return ({ quoteId, partCode }: { quoteId: string; partCode: string }): SoldAs => {
    const optionId = yeses.find((yes) => yes.quoteId === quoteId)?.optionId;
    const line = lines.find((each) => each.optionId === optionId && each.code === partCode);
    return {
      name: line?.description ?? partCode,
      unit: line?.unit ?? null,
      category: known.find(({ code }) => code === partCode)?.category,
    };
  };
}
