import type { Site } from '../platform/database/generated/client.ts';

/** Where somebody lives and how one gets in: what of a site is personal. */
export function addressOf(site: Site) {
  const { street, unit, city, region, postalCode, accessNotes } = site;
  const latitudeDeg = site.latitudeDeg === null ? null : String(site.latitudeDeg);
  const longitudeDeg = site.longitudeDeg === null ? null : String(site.longitudeDeg);
  return { street, unit, city, region, postalCode, accessNotes, latitudeDeg, longitudeDeg };
}
