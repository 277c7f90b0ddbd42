import type { Tx } from '../platform/database/database.ts';

/** Who of our staff made a link, and when. */
export interface LinkMaker {
  staffId: string;
  staffName: string;
  madeAt: Date;
}

/**
 * Who made some links. Whoever makes a link is told its address and can open it, so an answer that
 * came through it says who that was.
 * @returns the maker of each of these links
 */
export async function linkMakers(
  prisma: Pick<Tx, 'quoteLink' | 'staff'>,
  linkIds: readonly string[],
): Promise<(linkId: string) => LinkMaker> {
  if (linkIds.length === 0) return () => unknown();
  const links = await prisma.quoteLink.findMany({
    where: { id: { in: [...linkIds] } },
    select: { id: true, createdById: true, createdAt: true },
  });
  const staff = await prisma.staff.findMany({
    where: { id: { in: links.map(({ createdById }) => createdById) } },
    select: { id: true, name: true },
  });
  const nameOf = new Map(staff.map(({ id, name }) => [id, name]));
  const makers = new Map(
    links.map(({ id, createdById, createdAt }) => [
      id,
      { staffId: createdById, staffName: nameOf.get(createdById) ?? '', madeAt: createdAt },
    ]),
  );
  return (linkId) => makers.get(linkId) ?? unknown();
}

function unknown(): never {
  throw new Error('a link was made by somebody');
}
