import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import type { Company } from '../platform/database/generated/client.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { newCompanySchema } from './contract.ts';
import { requireKnownZone } from './require-known-zone.ts';

/**
 * Says who the company is. Before that nobody can work here; it happens once.
 * @throws ProblemError 409 where somebody has said it already; 400 for a time zone that the database
 *   does not know
 */
export async function setUpCompany(
  act: ActContext,
  said: z.output<typeof newCompanySchema>,
): Promise<Company> {
  await requireKnownZone(act.tx, said.timeZone);
  // Of two who say it at once the second waits here, and finds it said.
  const { count } = await act.tx.company.createMany({
    data: [{ ...said, id: 1 }],
    skipDuplicates: true,
  });
  if (count === 0) {
    throw new ProblemError('already-exists', 'It was said already who the company is.');
  }
  await appendJournal(act, {
    event: 'company.set_up',
    subject: { kind: 'company', id: '1' },
    after: said,
  });
  return { ...said, id: 1, version: 1 };
}
