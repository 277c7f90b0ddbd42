import type { z } from 'zod';
import { nameplateOf } from '../equipment/index.ts';
import { momentAtVisit, requireCertificate } from '../evidence/index.ts';
import { appendJournal } from '../journal/index.ts';
import { Prisma, type RefrigerantMove } from '../platform/database/generated/client.ts';
import { ProblemError, unknownReference, wrongField } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { knownRefrigerant, type Nameplate, partFits, weightRefusal } from '../trade/index.ts';
import type { newRefrigerantMoveSchema } from './contract.ts';
import { lockWork, type VisitAtWork } from './lock-work.ts';
import { refuseUnagreedCharge } from './refuse-unagreed-charge.ts';

type NewMove = z.output<typeof newRefrigerantMoveSchema>;

/**
 * Records refrigerant that went in or came out, as a cylinder's weight before and after, with the
 * certificate of whoever says so as it is now. Into a machine goes what its nameplate names and
 * nothing else; what comes out is what was in it.
 * @throws ProblemError 400 for a weight beyond reason, a cylinder that begins where it did not end
 *   or a time that cannot be, 403 without the certificate (40 CFR 82.161), 404, 409 unless at work
 *   and for a charge that nobody agreed to, 422 for a machine that is not there or a
 *   refrigerant that does not go into it
 */
export async function moveRefrigerant(
  act: ActContext,
  visitId: string,
  input: NewMove,
): Promise<RefrigerantMove> {
  const { visit } = await lockWork(act, visitId);
  const certificate = await certificateOf(act);
  const { nameplate, systemId } = await machineAt(act, visit, input.equipmentId);
  if (input.direction === 'charged') refuseOther(nameplate, input.refrigerant);
  refuseTooMuch(nameplate, input);
  if (input.direction === 'charged') {
    await refuseUnagreedCharge(act, visit, { systemId, ounces: weightOf(input) });
  }
  const movedAt = momentAtVisit(act, visit, input.movedAt, '/movedAt');
  const { movedAt: _, ...rest } = input;
  const figures = { ...rest, refrigerant: knownRefrigerant(rest.refrigerant) ?? rest.refrigerant };
  await refuseTwice(act, visit, figures);
  await refuseOtherWeight(act, visit, { ...figures, movedAt });
  const move = await act.tx.refrigerantMove.create({
    data: {
      ...figures,
      ...certificate,
      id: act.newId(),
      visitId,
      movedAt,
      recordedAt: act.now,
      recordedById: act.actor.id,
    },
  });
  await appendJournal(act, {
    event: 'refrigerant.moved',
    subject: { kind: 'refrigerant_move', id: move.id },
    after: { ...figures, visitId, certificateType: certificate.certificateType, movedAt },
  });
  return move;
}

/** A cylinder weighs the same before and after twice only where one weighing is sent twice. */
async function refuseTwice(
  { tx }: ActContext,
  { ticketId }: VisitAtWork,
  { cylinder, beforeOz, afterOz }: NewMove,
): Promise<void> {
  const same = await tx.refrigerantMove.findFirst({
    where: { visit: { ticketId }, cylinder, beforeOz, afterOz, strike: null },
    select: { id: true },
  });
  if (same === null) return;
  throw new ProblemError(
    'already-exists',
    `Cylinder ${cylinder} from ${beforeOz} to ${afterOz} oz is recorded already.`,
    { refrigerantMoveId: same.id },
  );
}

/**
 * A cylinder begins at what it last weighed at this visit, or else where that weighing began, which
 * is then put right.
 */
async function refuseOtherWeight(
  { tx }: ActContext,
  visit: VisitAtWork,
  { cylinder, beforeOz, movedAt }: Pick<NewMove, 'cylinder' | 'beforeOz'> & { movedAt: Date },
): Promise<void> {
  const last = await tx.refrigerantMove.findFirst({
    where: { visitId: visit.id, cylinder, strike: null, movedAt: { lte: movedAt } },
    orderBy: [{ movedAt: 'desc' }, { id: 'desc' }],
    select: { beforeOz: true, afterOz: true },
  });
  if (last === null) return;
  const isAbout = (weight: Prisma.Decimal) => weight.minus(beforeOz).abs().lte(WEIGHINGS_APART_OZ);
  if (isAbout(last.afterOz) || isAbout(last.beforeOz)) return;
  throw wrongField(
    '/beforeOz',
    'not_where_it_ended',
    `Cylinder ${cylinder} last weighed ${last.afterOz} oz at this visit. Weigh it again, or name the cylinder that was used.`,
  );
}

/** Hoses and caps hang on a scale differently each time; common practice, no source. */
const WEIGHINGS_APART_OZ = 4;

/** How much went in or came out, in ounces. */
export function movedOz({ beforeOz, afterOz }: RefrigerantMove): Prisma.Decimal {
  return beforeOz.minus(afterOz).abs();
}

async function certificateOf(
  act: ActContext,
): Promise<{ certificateType: string; certificateNumber: string }> {
  await requireCertificate(act);
  const { epa608Type, epa608Number } = await act.tx.staff.findUniqueOrThrow({
    where: { id: act.actor.id },
    select: { epa608Type: true, epa608Number: true },
  });
  if (epa608Type !== null && epa608Number !== null) {
    return { certificateType: epa608Type, certificateNumber: epa608Number };
  }
  throw new ProblemError(
    'certificate-missing',
    'The number of the Section 608 certificate is not on record.',
    { reason: 'certificate_number_missing', certificateHeld: epa608Type, source: '40 CFR 82.161' },
  );
}

async function machineAt(
  { tx }: ActContext,
  { ticketId }: VisitAtWork,
  equipmentId: string,
): Promise<{ nameplate: Nameplate; systemId: string }> {
  const machine = await tx.equipment.findFirst({
    where: { id: equipmentId, system: { site: { tickets: { some: { id: ticketId } } } } },
  });
  if (machine !== null) return { nameplate: nameplateOf(machine), systemId: machine.systemId };
  throw unknownReference('/equipmentId', 'There is no such equipment at this site.');
}

/** By what the law and the makers refuse, as of the refrigerant that a finding would sell. */
function refuseOther(nameplate: Nameplate, refrigerant: string): void {
  const part = { category: 'refrigerant', specs: { refrigerant } } as const;
  const fit = partFits(nameplate, 'add_refrigerant', part);
  if (fit.fits) return;
  throw new ProblemError('does-not-fit', fit.refusals.join(' '), {
    what: 'refrigerant',
    refusals: fit.refusals,
  });
}

/** What is typed is what the law's records say: 1160 ounces for 116 is a slip. */
function refuseTooMuch(nameplate: Nameplate, move: NewMove): void {
  const weight = weightOf(move).toNumber();
  const refusal = weightRefusal(nameplate, { weight, unit: '[oz_av]' });
  if (refusal !== undefined) throw wrongField('/afterOz', 'beyond_reason', refusal);
}

function weightOf({ beforeOz, afterOz }: Pick<NewMove, 'beforeOz' | 'afterOz'>): Prisma.Decimal {
  return new Prisma.Decimal(beforeOz).minus(afterOz).abs();
}
