import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { lockRow } from '../platform/database/lock-row.ts';
import type { ActContext } from '../platform/http/route.ts';
import { baseOf } from './base-of.ts';
import type { technicianChangeSchema } from './contract.ts';
import { type Technician, technicianOf } from './technician-of.ts';
import { technicianTag } from './technician-tag.ts';

/**
 * Changes where a technician sets out and what they can work on.
 * @throws ProblemError 404, 412 when somebody else changed it first
 */
export async function changeTechnician(
  act: ActContext,
  id: string,
  { base, skills }: z.output<typeof technicianChangeSchema>,
): Promise<Technician> {
  // While nothing is written down there is no row to lock but that of the person.
  await lockRow(act.tx, 'staff', id);
  const before = await technicianOf(act.tx, act.actor, id);
  act.mustMatch(await technicianTag(act.tx, before, act.now));
  const place = base === undefined ? baseOf(before) : base;
  const row = {
    skills: skills ?? before.profile?.skills ?? [],
    baseLatitudeDeg: place?.latitudeDeg ?? null,
    baseLongitudeDeg: place?.longitudeDeg ?? null,
    version: (before.profile?.version ?? 1) + 1,
  };
  const profile = await act.tx.technicianProfile.upsert({
    where: { technicianId: id },
    create: { technicianId: id, ...row },
    update: row,
  });
  const after = { ...before, profile };
  await appendJournal(act, {
    event: 'technician.changed',
    subject: { kind: 'staff', id },
    before: termsOf(before),
    after: termsOf(after),
  });
  return after;
}

/** Where somebody sets out is often where they live, so the journal says only whether it is known. */
function termsOf(technician: Technician) {
  return { skills: technician.profile?.skills ?? [], hasBase: baseOf(technician) !== null };
}
