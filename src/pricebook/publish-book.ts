import { appendJournal } from '../journal/index.ts';
import { canonicalJson } from '../platform/canonical-json.ts';
import { sqlOf } from '../platform/database/database.ts';
import { wrongField } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { sha256 } from '../platform/sha256.ts';
import type { BookContent } from './contract.ts';
import { lockNewestBook } from './lock-newest-book.ts';

/**
 * Publishes a whole price book as the next version. A version never changes: a correction is
 * another version.
 * @returns the new version's identifier
 * @throws ProblemError 400 when it would take effect before the book in force did, or sells a part
 *   another way than an earlier one did under the same code
 */
export async function publishBook(
  act: ActContext,
  content: BookContent,
  effectiveFrom: string,
): Promise<string> {
  const newest = await lockNewestBook(act);
  await refuseOutdated(act, effectiveFrom);
  const number = (newest?.number ?? 0) + 1;
  const { tasks, parts, ...head } = content;
  const version = await act.tx.priceBookVersion.create({
    data: {
      id: act.newId(),
      number,
      effectiveFrom,
      ...head,
      publishedAt: act.now,
      publishedById: act.actor.id,
    },
  });
  await insertLists(act, version.id, { tasks, parts });
  await refuseOtherUnits(act, version.id, parts);
  await appendJournal(act, {
    event: 'price_book.published',
    subject: { kind: 'price_book', id: version.id },
    after: {
      number,
      effectiveFrom,
      contentSha256: sha256(canonicalJson({ ...content, effectiveFrom })),
    },
  });
  return version.id;
}

// Whole lists travel as one value each: written out as parameters, fifty thousand parts would take
// longer than a transaction may.
async function insertLists(
  act: ActContext,
  versionId: string,
  { tasks, parts }: Pick<BookContent, 'tasks' | 'parts'>,
): Promise<void> {
  const sql = sqlOf(act.tx);
  await sql.query(INSERT_TASKS, [versionId, JSON.stringify(tasks)]);
  await sql.query(INSERT_PARTS, [versionId, JSON.stringify(parts)]);
}

const INSERT_TASKS = `
  INSERT INTO price_book_task (version_id, code, name, minutes, access_group, access_minutes)
  SELECT $1::uuid, code, name, minutes, "accessGroup", "accessMinutes"
  FROM json_to_recordset($2::json) AS task (
    code text, name text, minutes int, "accessGroup" text, "accessMinutes" int)`;

const INSERT_PARTS = `
  INSERT INTO price_book_part (version_id, code, category, name, cost_cents, supplier, tax_class,
    warranty_class, unit, pack_quantity, specs)
  SELECT $1::uuid, code, fit ->> 'category', name, "costCents", supplier, "taxClass",
    "warrantyClass", measured ->> 'unit', (measured ->> 'packQuantity')::numeric, fit -> 'specs'
  FROM json_to_recordset($2::json) AS part (
    code text, name text, "costCents" int, supplier text, "taxClass" text, "warrantyClass" text,
    measured json, fit json)`;

// Findings and stock name a part by its code and say how much: under the same code, two and a half
// pounds must not become two and a half ounces.
async function refuseOtherUnits(
  act: ActContext,
  versionId: string,
  parts: BookContent['parts'],
): Promise<void> {
  const { rows } = await sqlOf(act.tx).query<{ code: string; unit: string | null }>(OTHER_UNITS, [
    versionId,
  ]);
  const [other] = rows;
  if (other === undefined) return;
  const at = parts.findIndex(({ code }) => code === other.code);
  throw wrongField(
    `/parts/${at}/measured`,
    'unit_changed',
    `${other.code} was sold ${other.unit === null ? 'in pieces' : `in ${other.unit}`} before: what is sold another way needs a code of its own`,
  );
}

const OTHER_UNITS = `
  SELECT code, before.unit FROM price_book_part here JOIN price_book_part before USING (code)
  WHERE here.version_id = $1::uuid AND before.version_id <> $1::uuid
    AND before.unit IS DISTINCT FROM here.unit
  ORDER BY code LIMIT 1`;

// The latest effective date that has come counts, so such a book would never be in force.
async function refuseOutdated(act: ActContext, effectiveFrom: string): Promise<void> {
  const inForce = await act.tx.priceBookVersion.findFirst({
    where: { effectiveFrom: { lte: act.now } },
    orderBy: { effectiveFrom: 'desc' },
  });
  if (inForce === null || new Date(effectiveFrom) >= inForce.effectiveFrom) return;
  const since = inForce.effectiveFrom.toISOString();
  throw wrongField(
    '/effectiveFrom',
    'never_in_force',
    `must not be before ${since}, when the present book took effect: it could never take force`,
  );
}
