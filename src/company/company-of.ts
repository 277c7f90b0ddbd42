import type { Tx } from '../platform/database/database.ts';
import type { Company } from '../platform/database/generated/client.ts';
import { ProblemError } from '../platform/http/problem.ts';

/**
 * The one company of this deployment.
 * @throws ProblemError 409 before its owner has set it up
 */
export async function companyOf(prisma: Pick<Tx, 'company'>): Promise<Company> {
  const company = await prisma.company.findUnique({ where: { id: 1 } });
  if (company === null) throw notSetUp();
  return company;
}

/**
 * Made once for each process: throws the same while there is no company, and asks no more once there
 * is one, which nothing takes away.
 */
export function requiresCompany(prisma: Pick<Tx, 'company'>): () => Promise<void> {
  let isSetUp = false;
  return async () => {
    isSetUp ||= (await prisma.company.count()) > 0;
    if (!isSetUp) throw notSetUp();
  };
}

function notSetUp(): ProblemError {
  return new ProblemError(
    'not-allowed-now',
    'The owner says first who the company is: POST /v1/company.',
    { currentState: 'not_set_up', allowedActions: ['setUpCompany'] },
  );
}
