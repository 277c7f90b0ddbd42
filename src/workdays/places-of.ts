import type { Place } from '../planning/index.ts';
import type { Sql } from '../platform/database/database.ts';

/** Where a site is, and how that is known. */
export interface KnownPlace {
  readonly place: Place;
  readonly placeIs: 'site' | 'postal_code' | 'base';
}

/**
 * The places of some sites, by one statement: their own, or the middle of the placed sites of the
 * same postal code, or the base that is given.
 * @returns by the identifier of the site; one that does not exist is not there
 */
export async function placesOf(
  sql: Sql,
  siteIds: readonly string[],
  base: Place,
): Promise<ReadonlyMap<string, KnownPlace>> {
  const { rows } = await sql.query<PlaceRow>(PLACES, [[...new Set(siteIds)]]);
  return new Map(rows.map((row) => [row.siteId, placeIn(row, base)]));
}

interface PlaceRow {
  siteId: string;
  isOwn: boolean;
  latitudeDeg: number | null;
  longitudeDeg: number | null;
}

function placeIn({ siteId, isOwn, latitudeDeg, longitudeDeg }: PlaceRow, base: Place): KnownPlace {
  if (latitudeDeg === null || longitudeDeg === null) {
    return { place: { ...base, aboutSiteId: siteId }, placeIs: 'base' };
  }
  const place = { latitudeDeg, longitudeDeg };
  if (isOwn) return { place, placeIs: 'site' };
  return { place: { ...place, aboutSiteId: siteId }, placeIs: 'postal_code' };
}

const PLACES = `
  SELECT s.id AS "siteId", s.latitude_deg IS NOT NULL AS "isOwn",
    coalesce(s.latitude_deg, near.latitude_deg) AS "latitudeDeg",
    coalesce(s.longitude_deg, near.longitude_deg) AS "longitudeDeg"
  FROM site s
  LEFT JOIN (
    SELECT n.postal_code, avg(n.latitude_deg) AS latitude_deg, avg(n.longitude_deg) AS longitude_deg
    FROM site n
    WHERE n.latitude_deg IS NOT NULL AND n.postal_code IN
      (SELECT postal_code FROM site WHERE id = ANY ($1) AND latitude_deg IS NULL)
    GROUP BY n.postal_code
  ) near ON s.latitude_deg IS NULL AND near.postal_code = s.postal_code
  WHERE s.id = ANY ($1)`;
