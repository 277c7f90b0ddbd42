import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import type { Reading } from '../platform/database/generated/client.ts';
import type { ActContext } from '../platform/http/route.ts';
import { type GaugeUnit, readsRefrigerant, takeReading, type Unit } from '../trade/index.ts';
import type { newReadingSchema } from './contract.ts';
import { impossibleReading } from './impossible-reading.ts';
import { refuseTooMany } from './refuse-too-many.ts';
import { requireCertificate } from './require-certificate.ts';
import { equipmentAt, requireEquipment, requireOnSite, takenAtOrNow } from './require-on-site.ts';
import { requirePhoto } from './require-photo.ts';

type NewReading = z.output<typeof newReadingSchema>;

/** A reading in the unit it is kept in, with what the gauge showed. */
type Taken = Omit<NewReading, 'unit'> & { unit: Unit; shownValue: number; shownUnit: GaugeUnit };

/**
 * Records what the instruments showed, in the unit of the gauge and in ours: all of it or nothing.
 * @throws ProblemError 422 for a value that cannot be, with the range and the likely slip, for a
 *   unit that does not measure the quantity, for equipment that is not at this site or a photo that
 *   is not of this visit; 403 for a gauge in the hands of somebody without the certificate; 409
 *   unless on site
 */
export async function recordReadings(
  act: ActContext,
  visitId: string,
  readings: NewReading[],
): Promise<Reading[]> {
  const taken = readings.map(takeOrRefuse);
  const visit = await requireOnSite(act, visitId);
  const kept = await act.tx.reading.count({ where: { visitId } });
  refuseTooMany(visit, 'readings', { kept, added: readings.length });
  // What somebody else says to have measured is kept as that: nobody here attached a gauge.
  const isOwn = ({ source }: NewReading) => source === 'measured';
  if (readings.filter(isOwn).some(readsRefrigerant)) await requireCertificate(act);
  const machines = await equipmentAt(act, visit);
  const recorded: Reading[] = [];
  for (const [index, reading] of taken.entries()) {
    requireEquipment(machines, reading.equipmentId, `/readings/${index}/equipmentId`);
    await requirePhoto(act, visitId, reading.photoSha256, `/readings/${index}/photoSha256`);
    const takenAt = takenAtOrNow(act, visit, reading.takenAt, `/readings/${index}/takenAt`);
    recorded.push(await record(act, visitId, reading, takenAt));
  }
  return recorded;
}

function takeOrRefuse(reading: NewReading, index: number): Taken {
  const { quantity, point, method, value, unit } = reading;
  const { taken, refusal } = takeReading({ quantity, point, method, value, unit });
  if (refusal !== undefined) throw impossibleReading(reading, refusal, index);
  return { ...reading, ...taken, shownValue: value };
}

async function record(
  act: ActContext,
  visitId: string,
  input: Taken,
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
