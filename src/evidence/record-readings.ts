import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import type { Equipment, Reading } from '../platform/database/generated/client.ts';
import type { ActContext } from '../platform/http/route.ts';
import {
  type GaugeUnit,
  gaugeUnitSchema,
  readsRefrigerant,
  type Shown,
  takeReading,
  type Unit,
} from '../trade/index.ts';
import type { newReadingSchema } from './contract.ts';
import { toReading } from './gather-evidence.ts';
import { impossibleReading } from './impossible-reading.ts';
import { momentAtVisit } from './moment-at-visit.ts';
import { refuseMisplaced } from './refuse-misplaced.ts';
import { refuseTooMany } from './refuse-too-many.ts';
import { refuseWetAboveDry } from './refuse-wet-above-dry.ts';
import { requireCertificate } from './require-certificate.ts';
import {
  equipmentAt,
  requireEquipment,
  requireOnSite,
  requireOnSiteOrJustLeft,
} from './require-on-site.ts';
import { requirePhoto } from './require-photo.ts';

type NewReading = z.output<typeof newReadingSchema>;

/** A reading in the unit it is kept in, with what the gauge showed. */
type Taken = Omit<NewReading, 'unit'> & { unit: Unit; shownValue: number; shownUnit: GaugeUnit };

type Timed = Omit<Taken, 'takenAt'> & { takenAt: Date };

/**
 * Records what the instruments showed, in the unit of the gauge and in ours: all of it or nothing.
 * @throws ProblemError 422 for a value that cannot be, with the range and the likely slip, for a
 *   unit that does not measure the quantity, for a wet bulb above its dry bulb, for equipment that
 *   is not at this site or cannot have the point, or a photo that is not of this visit; 403 for a
 *   gauge in the hands of somebody without the certificate; 409 unless on site
 */
export async function recordReadings(
  act: ActContext,
  visitId: string,
  readings: NewReading[],
): Promise<Reading[]> {
  const taken = readings.map(takeOrRefuse);
  const isHowLeft = readings.every(({ phase }) => phase === 'left');
  const visit = await (isHowLeft ? requireOnSiteOrJustLeft : requireOnSite)(act, visitId);
  const kept = await act.tx.reading.count({ where: { visitId } });
  refuseTooMany(visit, 'readings', { kept, added: readings.length });
  // What somebody else says to have measured is kept as that: nobody here attached a gauge.
  const isOwn = ({ source }: NewReading) => source === 'measured';
  if (readings.filter(isOwn).some(readsRefrigerant)) await requireCertificate(act);
  const machines = await equipmentAt(act, visit);
  const timed: Timed[] = [];
  for (const [index, reading] of taken.entries()) {
    const { equipmentId, point, photoSha256 } = reading;
    requireEquipment(machines, equipmentId, `/readings/${index}/equipmentId`);
    refuseMisplaced([...machines.values()], { equipmentId, point }, `/readings/${index}`);
    await requirePhoto(act, visitId, photoSha256, `/readings/${index}/photoSha256`);
    const takenAt = momentAtVisit(act, visit, reading.takenAt, `/readings/${index}/takenAt`);
    timed.push({ ...reading, takenAt });
  }
  await refuseSwappedBulbs(act, visitId, machines, timed);
  const recorded: Reading[] = [];
  for (const reading of timed) recorded.push(await record(act, visitId, reading));
  return recorded;
}

/** Of each system against what was read of its air before; every system has air of its own. */
async function refuseSwappedBulbs(
  act: ActContext,
  visitId: string,
  machines: ReadonlyMap<string, Equipment>,
  timed: readonly Timed[],
): Promise<void> {
  const quantity = { in: ['temperature', 'wet_bulb_temperature'] };
  if (!timed.some((each) => quantity.in.includes(each.quantity))) return;
  const rows = await act.tx.reading.findMany({
    where: { visitId, quantity },
    orderBy: [{ recordedAt: 'asc' }, { id: 'asc' }],
  });
  const systemOf = (each: { equipmentId: string }) => machines.get(each.equipmentId)?.systemId;
  for (const system of new Set(timed.map(systemOf))) {
    const ofSystem = (each: { equipmentId: string }) => systemOf(each) === system;
    const before = rows.filter(ofSystem).map((row) => ({ ...toReading(row), shown: shownBy(row) }));
    const now = timed.map((each, index) => ({
      ...each,
      takenAt: each.takenAt.toISOString(),
      shown: { value: each.shownValue, unit: each.shownUnit },
      pointer: `/readings/${index}/value`,
    }));
    refuseWetAboveDry([...before, ...now.filter(ofSystem)]);
  }
}

/** Readings kept before the gauge was have only our unit. */
function shownBy(row: Reading): Shown {
  return row.shownValue === null || row.shownUnit === null
    ? toReading(row)
    : { value: row.shownValue, unit: gaugeUnitSchema.parse(row.shownUnit) };
}

function takeOrRefuse(reading: NewReading, index: number): Taken {
  const { quantity, point, method, value, unit } = reading;
  const { taken, refusal } = takeReading({ quantity, point, method, value, unit });
  if (refusal !== undefined) throw impossibleReading(reading, refusal, index);
  return { ...reading, ...taken, shownValue: value };
}

async function record(act: ActContext, visitId: string, input: Timed): Promise<Reading> {
  const { instrument, photoSha256 = null, takenAt, ...figures } = input;
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
