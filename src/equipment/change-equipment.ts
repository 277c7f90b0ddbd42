import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { dateOfDay } from '../platform/calendar-day.ts';
import type { Equipment } from '../platform/database/generated/client.ts';
import { lockRow } from '../platform/database/lock-row.ts';
import { versionTag } from '../platform/http/etag.ts';
import { notFound } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { ownSites } from '../staff/index.ts';
import { type Nameplate, nameplateSchema } from '../trade/index.ts';
import type { equipmentChangeSchema } from './contract.ts';
import { describeMachine } from './describe-machine.ts';
import { nameplateColumns, nameplateOf } from './nameplate.ts';
import { refuseImpossiblePlate } from './refuse-impossible-plate.ts';
import { refuseShorterWarranty } from './refuse-shorter-warranty.ts';

type Change = z.output<typeof equipmentChangeSchema>;

/**
 * Corrects a machine's data, its nameplate above all. Findings already recorded keep the nameplate
 * they were judged by.
 * @throws ProblemError 400 for a figure that no plate says, 403 for a technician who shortens a
 *   warranty, 404 when it is unknown or not theirs, or 412 when somebody else changed it first
 */
export async function changeEquipment(
  act: ActContext,
  id: string,
  change: Change,
): Promise<Equipment> {
  const where = { id, system: { site: ownSites(act.actor) } };
  // Before the lock, too: nobody holds or waits for what is another's.
  if ((await act.tx.equipment.count({ where })) === 0) throw notFound('equipment');
  // The row lock makes two changes that arrive together wait; the second then fails its If-Match.
  await lockRow(act.tx, 'equipment', id);
  const before = await act.tx.equipment.findUnique({ where });
  if (before === null) throw notFound('equipment');
  act.mustMatch(versionTag(before.version));
  refuseShorterWarranty(act, before, change);
  const after = await act.tx.equipment.update({
    where: { id },
    data: { ...columnsOf(before, change), version: before.version + 1 },
  });
  await appendJournal(act, {
    event: 'equipment.changed',
    subject: { kind: 'equipment', id },
    before: describeMachine(before),
    after: describeMachine(after),
  });
  return after;
}

function columnsOf(before: Equipment, { nameplate, ...change }: Change) {
  const given = Object.entries(change).filter(([, value]) => value !== undefined);
  const columns = given.map(([field, value]) => [
    field,
    DAYS.has(field) && typeof value === 'string' ? dateOfDay(value) : value,
  ]);
  return {
    ...Object.fromEntries(columns),
    ...(nameplate !== undefined && nameplateColumns(mergedPlate(nameplateOf(before), nameplate))),
  };
}

const DAYS = new Set([
  'installedOn',
  'partsWarrantyUntil',
  'compressorWarrantyUntil',
  'laborWarrantyUntil',
]);

/** Checked as a whole: a highest voltage given alone must still fit the lowest on record. */
function mergedPlate(before: Nameplate, change: NonNullable<Change['nameplate']>): Nameplate {
  const fields = Object.entries({ ...before, ...change });
  const known = fields.filter(([, value]) => value !== null && value !== undefined);
  const merged = nameplateSchema.parse(Object.fromEntries(known));
  refuseImpossiblePlate(merged);
  return merged;
}
