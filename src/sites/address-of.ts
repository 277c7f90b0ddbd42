import type { Site } from '../platform/database/generated/client.ts';

/** Where somebody lives and how one gets in: what of a site is personal. */
export function addressOf({ street, unit, city, region, postalCode, accessNotes }: Site) {
  return { street, unit, city, region, postalCode, accessNotes };
}
