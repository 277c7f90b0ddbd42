import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { versionTag } from '../platform/http/etag.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { DispatchPolicy, dispatchPolicyChangeSchema } from './contract.ts';
import { dispatchPolicyOf } from './dispatch-policy-of.ts';

/**
 * Changes how days are planned. What is booked stays as it was planned.
 * @throws ProblemError 412 when somebody else changed it first
 */
export async function changeDispatchPolicy(
  act: ActContext,
  change: z.output<typeof dispatchPolicyChangeSchema>,
): Promise<DispatchPolicy> {
  const before = await dispatchPolicyOf(act.tx);
  act.mustMatch(versionTag(before.version));
  const given = Object.entries(change).filter(([, value]) => value !== undefined);
  const after: DispatchPolicy = {
    ...before,
    ...Object.fromEntries(given),
    version: before.version + 1,
  };
  await write(act, before, after);
  await appendJournal(act, {
    event: 'dispatch_policy.changed',
    subject: { kind: 'company', id: '1' },
    before: termsOf(before),
    after: termsOf(after),
  });
  return after;
}

/** Of two that come together the second finds another version than the one it looked at. */
async function write(
  { tx }: ActContext,
  before: DispatchPolicy,
  after: DispatchPolicy,
): Promise<void> {
  // While nothing was changed yet there is no row: whoever comes second here waits for the first.
  await tx.dispatchPolicy.createMany({ data: [rowOf(before)], skipDuplicates: true });
  const { count } = await tx.dispatchPolicy.updateMany({
    where: { id: 1, version: before.version },
    data: rowOf(after),
  });
  if (count === 1) return;
  throw new ProblemError('version-changed', 'Somebody else changed it at the same moment.');
}

function rowOf({ base, ...figures }: DispatchPolicy) {
  return {
    ...figures,
    baseLatitudeDeg: base?.latitudeDeg ?? null,
    baseLongitudeDeg: base?.longitudeDeg ?? null,
  };
}

function termsOf({ version: _, ...terms }: DispatchPolicy) {
  return terms;
}
