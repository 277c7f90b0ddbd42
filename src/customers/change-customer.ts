import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import type { Customer } from '../platform/database/generated/client.ts';
import { lockRow } from '../platform/database/lock-row.ts';
import { versionTag } from '../platform/http/etag.ts';
import { notFound, ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { customerChangeSchema } from './contract.ts';

/**
 * Changes a person's data.
 * @throws ProblemError 404, 409 for a person who was erased, or 412 when somebody else changed it
 *   first
 */
export async function changeCustomer(
  act: ActContext,
  id: string,
  change: z.output<typeof customerChangeSchema>,
): Promise<Customer> {
  // The row lock makes two changes that arrive together wait; the second then fails its If-Match.
  await lockRow(act.tx, 'customer', id);
  const before = await act.tx.customer.findUnique({ where: { id }, include: { erasure: true } });
  if (before === null) throw notFound('customer');
  act.mustMatch(versionTag(before.version));
  if (before.erasure !== null) {
    throw new ProblemError(
      'not-allowed-now',
      'This person was erased. Add them as a new customer.',
      {
        currentState: 'erased',
        allowedActions: [],
      },
    );
  }
  const given = Object.fromEntries(
    Object.entries(change).filter(([, value]) => value !== undefined),
  );
  const after = await act.tx.customer.update({
    where: { id },
    data: { ...given, version: before.version + 1 },
  });
  await appendJournal(act, {
    event: 'customer.changed',
    subject: { kind: 'customer', id },
    before: { language: before.language },
    after: { language: after.language },
    personal: { salt: before.journalSalt, before: personalOf(before), after: personalOf(after) },
  });
  return after;
}

function personalOf({ name, phone, email }: Customer) {
  return { name, phone, email };
}
