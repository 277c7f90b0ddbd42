import { localDay } from '../../src/company/index.ts';
import type { WholeFinding } from '../../src/evidence/index.ts';
import { dateOfDay, plusDays } from '../../src/platform/calendar-day.ts';
import { Prisma } from '../../src/platform/database/generated/client.ts';
import { handlesRefrigerant, taskCodeSchema } from '../../src/trade/index.ts';
import { minutesAfter } from './minutes-after.ts';
import type { Pen } from './pen.ts';
import type { Scenario } from './scenarios.ts';
import type { FieldVisit, Recorded } from './write-evidence.ts';
import type { Sold, SoldLine } from './write-quote.ts';
import type { Acts } from './wrongs/wrong.ts';

/** Work that was agreed to, and the trip at which it was done. */
export interface WorkDone {
  visit: FieldVisit;
  findings: readonly WholeFinding[];
  arrivedAt: Date;
  sold: Sold;
  scenario: Scenario;
  /** What was found at first, where the recovered charge was weighed. */
  found: Recorded;
  at: Date;
  acts: Acts;
  /** Whether some of it may be left undone; not where a wrong is told, which that could undo. */
  mayLeave: boolean;
}

/** What became of what was sold. */
export interface Outcomes {
  undoneFindingIds: readonly string[];
  /** Lines of parts that were left out of the machine and billed all the same. */
  leftOutKeys: readonly string[];
}

/** Writes what was done under a yes: outcomes, parts, refrigerant; and remembers what was mended. */
export function writeWork(pen: Pen, work: WorkDone): Outcomes {
  const findingIds = foundAmong(work);
  const undoneFindingIds = undoneOf(pen, findingIds, work);
  const done = findingIds.filter((id) => !undoneFindingIds.includes(id));
  for (const id of findingIds) writeOutcome(pen, work, id, !undoneFindingIds.includes(id));
  writeRefrigerant(pen, work, done);
  const lines = work.sold.lines.filter(({ kind }) => kind === 'part' || kind === 'good');
  const leftOutKeys: string[] = [];
  for (const line of lines) {
    const findingId = line.findingIds.find((id) => done.includes(id));
    if (findingId === undefined) continue;
    // A part that costs nothing is not worth leaving out.
    if (work.acts.leavesPartsOut && line.amountCents > 0) leftOutKeys.push(line.key);
    else writePartUse(pen, work, line, findingId);
  }
  remember(pen, work, done, leftOutKeys.length === 0);
  return { undoneFindingIds, leftOutKeys };
}

/** The findings that the yes sells, in the order of their writing; what nobody found is none. */
function foundAmong({ sold, findings }: WorkDone): string[] {
  const ids = sold.lines
    .filter(({ kind }) => kind === 'part' || kind === 'good' || kind === 'labor')
    .flatMap((line) => line.findingIds);
  return [...new Set(ids)].filter((id) => findings.some((finding) => finding.id === id)).sort();
}

/** Now and then the last of several things is left undone. */
function undoneOf(
  pen: Pen,
  findingIds: readonly string[],
  { acts, sold, mayLeave }: WorkDone,
): string[] {
  const isPlain = Object.keys(acts).length === 0 && sold.honest === undefined;
  const isFree = !sold.inputs.visitFee.chargeable;
  const last = findingIds.at(-1);
  if (findingIds.length < 2 || last === undefined || isFree) return [];
  return pen.random.chance(0.04) && isPlain && mayLeave ? [last] : [];
}

function writeOutcome(pen: Pen, work: WorkDone, findingId: string, isDone: boolean): void {
  const { visit, sold } = work;
  const at = recordedAt(work);
  const id = pen.makeId(at);
  const until = isDone ? warrantyUntil(pen, work) : null;
  const facts = {
    visitId: visit.id,
    quoteId: sold.quoteId,
    outcome: isDone ? 'done' : 'not_done',
  };
  pen.add('work_outcome', {
    ...facts,
    id,
    findingId,
    reason: isDone ? null : 'The customer wants to wait with it.',
    laborWarrantyUntil: until === null ? null : dateOfDay(until),
    recordedAt: at,
    recordedById: visit.technician.id,
  });
  pen.note(at, visit.technician, {
    event: 'work.outcome_recorded',
    subject: { kind: 'finding', id: findingId },
    after: { ...facts, laborWarrantyUntil: until, outcomeId: id },
  });
}

/** Who works first and asks then writes it down before the yes. */
function recordedAt({ acts, sold, at }: WorkDone): Date {
  return acts.worksFirst ? minutesAfter(sold.acceptedAt, -8) : at;
}

function warrantyUntil(pen: Pen, { sold, at }: WorkDone): string {
  const { laborWarrantyDays = CALLBACK_DAYS } = sold.inputs.policy;
  return plusDays(localDay(at, pen.plan.company.timeZone), laborWarrantyDays);
}

const CALLBACK_DAYS = 30;

function writePartUse(pen: Pen, work: WorkDone, line: SoldLine, findingId: string): void {
  const { visit, sold } = work;
  const at = recordedAt(work);
  const id = pen.makeId(at);
  const facts = {
    visitId: visit.id,
    quoteId: sold.quoteId,
    findingId,
    partCode: line.code,
    quantity: line.quantity,
    measured: line.measured,
    oldPart: oldPartOf(line),
  };
  pen.add('part_use', { ...facts, id, recordedAt: at, recordedById: visit.technician.id });
  pen.note(at, visit.technician, {
    event: 'part.used',
    subject: { kind: 'part_use', id },
    after: { ...facts, serial: null, oldSerial: null },
  });
}

function oldPartOf({ kind, amountCents }: SoldLine): string {
  if (kind === 'good') return 'none';
  return amountCents === 0 ? 'kept_for_claim' : 'given_to_customer';
}

/** What came out and what went in, weighed; whoever has no certificate may borrow a number. */
function writeRefrigerant(pen: Pen, work: WorkDone, done: readonly string[]): void {
  const isHandled = work.findings.some(
    ({ id, taskCode }) => done.includes(id) && handlesRefrigerant(taskCodeSchema.parse(taskCode)),
  );
  if (!isHandled || work.acts.weighsNothing) return;
  const recovered = work.found.readings.find(({ point }) => point === 'recovered_charge')?.value;
  const sold = work.sold.lines.find(({ kind }) => kind === 'good')?.measured ?? '0';
  const cylinderOz = pen.random.int(250, 380);
  if (recovered !== undefined) {
    writeMove(pen, work, 'recovered', 'R', new Prisma.Decimal(80), new Prisma.Decimal(recovered));
  }
  // The scale shows tenths; what is billed never exceeds what it says went in.
  const chargedOz = new Prisma.Decimal(sold).times(OZ_PER_LB).toDecimalPlaces(1, UP);
  writeMove(pen, work, 'charged', 'C', new Prisma.Decimal(cylinderOz), chargedOz);
}

const OZ_PER_LB = 16;
const UP = 0;

function writeMove(
  pen: Pen,
  { visit, arrivedAt, acts, at }: WorkDone,
  direction: 'charged' | 'recovered',
  letter: string,
  before: Prisma.Decimal,
  moved: Prisma.Decimal,
): void {
  const { technician, machine } = visit;
  const certificate = acts.borrowsCertificate ? pen.plan.technicians[0] : technician;
  const movedAt = minutesAfter(arrivedAt, direction === 'recovered' ? 15 : 60);
  const after = direction === 'charged' ? before.minus(moved) : before.plus(moved);
  const figures = {
    equipmentId: machine.row.id,
    refrigerant: machine.row.refrigerant ?? 'unknown',
    direction,
    cylinder: `${letter}-${technician.id.slice(-4)}`,
    beforeOz: before.toFixed(1),
    afterOz: after.toFixed(1),
  };
  const certificateType = certificate?.epa608Type ?? 'universal';
  const id = pen.makeId(at);
  pen.add('refrigerant_move', {
    ...figures,
    id,
    visitId: visit.id,
    certificateType,
    certificateNumber: certificate?.epa608Number ?? 'INVENTED-608-1',
    movedAt,
    recordedAt: at,
    recordedById: technician.id,
  });
  pen.note(at, technician, {
    event: 'refrigerant.moved',
    subject: { kind: 'refrigerant_move', id },
    after: { ...figures, visitId: visit.id, certificateType, movedAt },
  });
}

function remember(pen: Pen, work: WorkDone, done: readonly string[], partsWentIn: boolean): void {
  const laborWarrantyUntil = warrantyUntil(pen, work);
  const { visit, findings, scenario, arrivedAt } = work;
  for (const { id, faultCode: fault } of findings) {
    if (!done.includes(id)) continue;
    const mended = { fault, scenario, arrivedAt, laborWarrantyUntil, partsWentIn };
    pen.history.remember(visit.machine.row.systemId, mended);
  }
}
