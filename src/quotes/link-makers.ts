import type { Tx } from '../platform/database/database.ts';

/** Who of our staff made a link, and when; nobody of them where it was made for a mail. */
export interface LinkMaker {
  staff: { staffId: string; staffName: string } | null;
  madeAt: Date;
}

/**
 * Who made some links. Whoever makes a link is told its address and can open it, so an answer that
 * came through it says who that was. The link in a mail was told to nobody but its reader.
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
    where: { id: { in: links.flatMap(({ createdById }) => createdById ?? []) } },
    select: { id: true, name: true },
  });
  const nameOf = new Map(staff.map(({ id, name }) => [id, name]));
  const makers = new Map(
    links.map(({ id, createdById, createdAt }) => [
      id,
      {
        staff:
          createdById === null
            ? null
            : { staffId: createdById, staffName: nameOf.get(createdById) ?? '' },
        madeAt: createdAt,
      },
    ]),
  );
  return (linkId) => makers.get(linkId) ?? unknown();
}

function unknown(): never {
  throw new Error('a link was made by somebody');
}
