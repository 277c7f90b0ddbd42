import type { Tx } from '../platform/database/database.ts';
import { ProblemError } from '../platform/http/problem.ts';
import { coveredBy, taskCodeSchema } from '../trade/index.ts';
import { acceptedDocuments, soldFindings } from './accepted-documents.ts';
import { isSamePlace, type WorkPlace } from './place-of.ts';

/** A quote whose work is held against what its ticket has sold. */
interface Selling {
  quoteId?: string;
  visit: { id: string; ticketId: string };
}

/** A finding as far as its work may have been sold already. */
interface Sellable extends WorkPlace {
  id: string;
}

/**
 * One finding is mended, and paid, once: refuses to sell what an accepted document of the ticket
 * sells already, unless that work was put on record as not done. The same holds of the same work
 * written as another finding, and of work that goes with sold work: at the same visit whatever
 * became of it, and at another as long as it is still to be done. Work done and needed again later
 * is sold again; whether it is free is a question of its warranty.
 * @throws ProblemError 422
 */
export async function refuseSoldWork(
  tx: Pick<Tx, 'finding' | 'quote' | 'quoteLine'>,
  { quoteId, visit }: Selling,
  findingIds: readonly string[],
): Promise<void> {
  const documents = await acceptedDocuments(tx, visit.ticketId, quoteId);
  if (documents.length === 0) return;
  const asked = await sellable(tx, findingIds);
  for (const document of documents) {
    const standing = soldFindings(document).filter(
      (id) => document.outcomes.get(id) !== 'not_done',
    );
    const again = asked.find(({ id }) => standing.includes(id));
    if (again !== undefined) throw alreadySold(document.number, again.id);
    const sold = await sellable(tx, standing);
    for (const work of sold) {
      const isOpen = !document.outcomes.has(work.id);
      const blocked = asked.find(
        (other) =>
          isSamePlace(work, other) &&
          (goesWith(work, other)
            ? isOpen || document.visitId === visit.id
            : isOpen && goesWith(other, work)),
      );
      if (blocked !== undefined) throw alreadySold(document.number, blocked.id);
    }
  }
}

async function sellable(
  tx: Pick<Tx, 'finding'>,
  ids: readonly string[],
): Promise<readonly Sellable[]> {
  return tx.finding.findMany({
    where: { id: { in: [...ids] } },
    orderBy: { id: 'asc' },
    select: {
      id: true,
      taskCode: true,
      equipmentId: true,
      equipment: { select: { systemId: true } },
    },
  });
}

/** Whether doing the one is doing the other: the same task, or one that it covers. */
function goesWith(one: Sellable, other: Sellable): boolean {
  if (one.taskCode === other.taskCode) return true;
  return coveredBy(taskCodeSchema.parse(one.taskCode)).includes(other.taskCode);
}

function alreadySold(quoteNumber: number, findingId: string): ProblemError {
  const message = `Accepted quote ${quoteNumber} sells this work already. Where it was not done, put that on record first.`;
  return new ProblemError('price-refused', message, {
    findingId,
    errors: [{ in: 'body', pointer: '/options', code: 'already_sold', message }],
  });
}
