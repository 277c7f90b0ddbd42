import type { Place } from '../planning/index.ts';
import type { Sql } from '../platform/database/database.ts';

/** Where a site is, and how that is known. */
export interface KnownPlace {
  readonly place: Place;
  readonly placeIs: 'site' | 'postal_code' | 'base';
}

/**
 * The places of some sites, by one statement: their own, or the middle of the placed sites of the
 * same postal code that were recorded last, or the base that is given.
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

/**
 * How many neighbors stand for a site: more do not tell the middle of a postal code better. Those
 * recorded last, so that the same ones do for everybody. Common practice, no source.
 */
const NEIGHBORS_MAX = 50;

const PLACES = `
  WITH asked AS MATERIALIZED
    (SELECT id, postal_code, latitude_deg, longitude_deg FROM site WHERE id = ANY ($1)),
  near AS MATERIALIZED (
    SELECT codes.postal_code, avg(n.latitude_deg) AS latitude_deg,
      avg(n.longitude_deg) AS longitude_deg
    FROM (SELECT DISTINCT postal_code FROM asked WHERE latitude_deg IS NULL) AS codes
    CROSS JOIN LATERAL (SELECT latitude_deg, longitude_deg FROM site
      WHERE postal_code = codes.postal_code AND latitude_deg IS NOT NULL
      ORDER BY id DESC LIMIT ${NEIGHBORS_MAX}) AS n
    GROUP BY codes.postal_code)
  SELECT s.id AS "siteId", s.latitude_deg IS NOT NULL AS "isOwn",
    coalesce(s.latitude_deg, near.latitude_deg) AS "latitudeDeg",
    coalesce(s.longitude_deg, near.longitude_deg) AS "longitudeDeg"
  FROM asked s
  LEFT JOIN near ON s.latitude_deg IS NULL AND near.postal_code = s.postal_code`;
