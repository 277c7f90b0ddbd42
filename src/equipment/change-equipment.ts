import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import type { Equipment } from '../platform/database/generated/client.ts';
import { lockRow } from '../platform/database/lock-row.ts';
import { versionTag } from '../platform/http/etag.ts';
import { notFound } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { equipmentChangeSchema } from './contract.ts';
import { describeMachine } from './describe-machine.ts';
import { nameplateColumns } from './nameplate.ts';

/**
 * Corrects a machine's data, its nameplate above all. Findings already recorded keep the nameplate
 * they were judged by.
 * @throws ProblemError 404, or 412 when somebody else changed it first
 */
export async function changeEquipment(
  act: ActContext,
  id: string,
  change: z.output<typeof equipmentChangeSchema>,
): Promise<Equipment> {
  // The row lock makes two changes that arrive together wait; the second then fails its If-Match.
  await lockRow(act.tx, 'equipment', id);
  const before = await act.tx.equipment.findUnique({ where: { id } });
  if (before === null) throw notFound('equipment');
  act.mustMatch(versionTag(before.version));
  const after = await act.tx.equipment.update({
    where: { id },
    data: { ...columnsOf(change), version: before.version + 1 },
  });
  await appendJournal(act, {
    event: 'equipment.changed',
    subject: { kind: 'equipment', id },
    before: describeMachine(before),
    after: describeMachine(after),
  });
  return after;
}

function columnsOf({ nameplate, ...change }: z.output<typeof equipmentChangeSchema>) {
  const given = Object.entries(change).filter(([, value]) => value !== undefined);
  const columns = given.map(([field, value]) => [
    field,
    DAYS.has(field) ? new Date(`${value}T00:00:00Z`) : value,
  ]);
  return {
    ...Object.fromEntries(columns),
    ...(nameplate !== undefined && nameplateColumns(nameplate)),
  };
}

const DAYS = new Set(['installedOn', 'partsWarrantyUntil', 'laborWarrantyUntil']);
