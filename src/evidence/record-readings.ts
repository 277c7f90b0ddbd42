import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import type { Reading } from '../platform/database/generated/client.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { checkReading } from '../trade/index.ts';
import type { newReadingSchema } from './contract.ts';
import { equipmentAt, requireEquipment, requireOnSite, takenAtOrNow } from './require-on-site.ts';
import { requirePhoto } from './require-photo.ts';

type NewReading = z.output<typeof newReadingSchema>;

/**
 * Records what the instruments showed: all of it or nothing.
 * @throws ProblemError 422 for a value that cannot be, with the range and the likely slip, for
 *   equipment that is not at this site or a photo that is not of this visit; 409 unless on site
 */
export async function recordReadings(
  act: ActContext,
  visitId: string,
  readings: NewReading[],
): Promise<Reading[]> {
  readings.forEach(refuseImpossible);
  const visit = await requireOnSite(act, visitId);
  const machines = await equipmentAt(act, visit);
  const recorded: Reading[] = [];
  for (const [index, reading] of readings.entries()) {
    requireEquipment(machines, reading.equipmentId, `/readings/${index}/equipmentId`);
    await requirePhoto(act, visitId, reading.photoSha256, `/readings/${index}/photoSha256`);
    const takenAt = takenAtOrNow(act, visit, reading.takenAt, `/readings/${index}/takenAt`);
    recorded.push(await record(act, visitId, reading, takenAt));
  }
  return recorded;
}

function refuseImpossible(reading: NewReading, index: number): void {
  const refusal = checkReading(reading);
  if (refusal === undefined) return;
  throw new ProblemError('reading-out-of-range', refusal.message, {
    errors: [
      {
        in: 'body',
        pointer: `/readings/${index}/${FIELD_OF[refusal.kind]}`,
        code: refusal.kind,
        message: refusal.message,
      },
    ],
    ...(refusal.kind === 'out_of_range' && {
      range: { low: refusal.low, high: refusal.high, unit: refusal.unit },
      ...(refusal.likely !== undefined && { likelyValue: refusal.likely }),
    }),
  });
}

const FIELD_OF = {
  not_a_number: 'value',
  out_of_range: 'value',
  wrong_quantity: 'quantity',
  wrong_unit: 'unit',
  wrong_method: 'method',
} as const;

async function record(
  act: ActContext,
  visitId: string,
  input: NewReading,
  takenAt: Date,
): Promise<Reading> {
  const { instrument, photoSha256 = null, takenAt: _, ...figures } = input;
  const reading = await act.tx.reading.create({
    data: {
      ...figures,
      id: act.newId(),
      visitId,
      instrument: instrument ?? null,
      photoSha256,
      takenAt,
      recordedAt: act.now,
      recordedById: act.actor.id,
    },
  });
  await appendJournal(act, {
    event: 'reading.recorded',
    subject: { kind: 'reading', id: reading.id },
    after: { ...figures, photoSha256, visitId, takenAt },
  });
  return reading;
}
