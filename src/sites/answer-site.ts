import type { z } from 'zod';
import type { Prisma } from '../platform/database/generated/client.ts';
import { versionTag } from '../platform/http/etag.ts';
import type { siteSchema } from './contract.ts';

/** What of a site's systems and machines is read with it. */
export const withMachines = {
  systems: {
    select: {
      id: true,
      name: true,
      equipment: {
        select: { id: true, kind: true, maker: true, model: true, version: true },
        orderBy: { id: 'asc' },
      },
    },
    orderBy: { id: 'asc' },
  },
} as const satisfies Prisma.SiteInclude;

export type SiteWithMachines = Prisma.SiteGetPayload<{ include: typeof withMachines }>;

/** A site with its systems and machines as an answer, and its tag. */
export function answerSite(site: SiteWithMachines) {
  return { body: siteBody(site), etag: siteTag(site) };
}

/**
 * The tag of a site. A machine is shown with its site but changes without it, so its versions
 * count too: they only grow, and so does their sum.
 */
export function siteTag({ version, systems }: SiteWithMachines): string {
  const machines = systems.flatMap((system) => system.equipment);
  return versionTag(version, `.${machines.reduce((sum, machine) => sum + machine.version, 0)}`);
}

/** A site with its systems and machines, as it is shown. */
export function siteBody({
  latitudeDeg,
  longitudeDeg,
  streetSearch: _,
  ...site
}: SiteWithMachines): z.input<typeof siteSchema> {
  return {
    ...site,
    place: latitudeDeg === null || longitudeDeg === null ? null : { latitudeDeg, longitudeDeg },
    createdAt: site.createdAt.toISOString(),
    systems: site.systems.map(({ equipment, ...system }) => ({
      ...system,
      equipment: equipment.map(({ version: _, ...machine }) => machine),
    })),
  };
}
