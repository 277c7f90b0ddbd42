import type { Tx } from '../platform/database/database.ts';
import { ProblemError } from '../platform/http/problem.ts';
import { coveredBy, taskCodeSchema } from '../trade/index.ts';
import {
  type AcceptedDocument,
  acceptedDocuments,
  acceptedElsewhere,
  soldFindings,
} from './accepted-documents.ts';
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
 * is sold again; whether it is free is a question of its warranty. What is still to be done on
 * another open ticket of the site is not sold here either: whoever accepts holds the site's row, so
 * that two yeses on two tickets wait for each other.
 * @throws ProblemError 422
 */
export async function refuseSoldWork(
  tx: Pick<Tx, 'finding' | 'quote' | 'quoteLine'>,
  { quoteId, visit }: Selling,
  findingIds: readonly string[],
): Promise<void> {
  const asked = await sellable(tx, findingIds);
  for (const document of await acceptedDocuments(tx, visit.ticketId, quoteId)) {
    const standing = soldFindings(document).filter(
      (id) => document.outcomes.get(id) !== 'not_done',
    );
    const again = asked.find(({ id }) => standing.includes(id));
    if (again !== undefined) throw alreadySold(document, again.id);
    for (const work of await sellable(tx, standing)) {
      const isOpen = !document.outcomes.has(work.id);
      const blocked = asked.find((other) =>
        isOpen
          ? isSameWork(work, other)
          : isSamePlace(work, other) && goesWith(work, other) && document.visitId === visit.id,
      );
      if (blocked !== undefined) throw alreadySold(document, blocked.id);
    }
  }
  await refuseSoldElsewhere(tx, visit.ticketId, asked);
}

async function refuseSoldElsewhere(
  tx: Pick<Tx, 'finding' | 'quote' | 'quoteLine'>,
  ticketId: string,
  asked: readonly Sellable[],
): Promise<void> {
  for (const document of await acceptedElsewhere(tx, ticketId)) {
    const open = soldFindings(document).filter((id) => !document.outcomes.has(id));
    const sold = await sellable(tx, open);
    const blocked = asked.find((other) => sold.some((work) => isSameWork(work, other)));
    if (blocked !== undefined) throw soldElsewhere(document, blocked.id);
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

/** Whether one of two is done along with the other. */
function isSameWork(one: Sellable, other: Sellable): boolean {
  return isSamePlace(one, other) && (goesWith(one, other) || goesWith(other, one));
}

/** Whether doing the one is doing the other: the same task, or one that it covers. */
function goesWith(one: Sellable, other: Sellable): boolean {
  if (one.taskCode === other.taskCode) return true;
  return coveredBy(taskCodeSchema.parse(one.taskCode)).includes(other.taskCode);
}

function alreadySold({ number }: AcceptedDocument, findingId: string): ProblemError {
  return refused(
    findingId,
    `Accepted quote ${number} sells this work already. Where it was not done, put that on record first.`,
  );
}

function soldElsewhere({ number, ticket }: AcceptedDocument, findingId: string): ProblemError {
  return refused(
    findingId,
    `Accepted quote ${number} of ticket ${ticket.number} sells this work, and it is still to be done. Do it on that ticket; where it will not be done, put that on record there first.`,
  );
}

function refused(findingId: string, message: string): ProblemError {
  return new ProblemError('price-refused', message, {
    findingId,
    errors: [{ in: 'body', pointer: '/options', code: 'already_sold', message }],
  });
}
