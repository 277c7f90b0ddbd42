import type pg from 'pg';
import { canonicalJson } from '../platform/canonical-json.ts';
import {
  evidenceRulesets,
  evidenceRulesetVersionSchema,
  evidenceSchema,
  faultCodeSchema,
  type Verdict,
  verdictSchema,
} from '../trade/index.ts';

/** What was found: every finding that its frozen inputs do not lead to any more, and how it differs. */
export type ReplayReport = { replayed: number; differences: string[] };

/**
 * Weighs every finding again from the evidence frozen in it, under the ruleset version it was made
 * with, and compares the whole verdict with the stored one. Changes nothing.
 */
export async function replayFindings(pool: pg.Pool): Promise<ReplayReport> {
  const client = await pool.connect();
  try {
    await client.query('BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY');
    await client.query('SET LOCAL statement_timeout = 0');
    const report: ReplayReport = { replayed: 0, differences: [] };
    for await (const row of findings(client)) {
      report.replayed += 1;
      report.differences.push(...differencesOf(row).map((each) => `finding ${row.id}: ${each}`));
    }
    await client.query('COMMIT');
    return report;
  } catch (error) {
    await client.query('ROLLBACK').catch(() => undefined);
    throw error;
  } finally {
    client.release();
  }
}

interface StoredFinding {
  id: string;
  fault_code: string;
  standing: string;
  ruleset_version: string;
  verdict: unknown;
  evidence: unknown;
}

function differencesOf(row: StoredFinding): string[] {
  const version = evidenceRulesetVersionSchema.safeParse(row.ruleset_version);
  if (!version.success) return [`there are no rules of version ${row.ruleset_version}`];
  const faultCode = faultCodeSchema.safeParse(row.fault_code);
  if (!faultCode.success) return [`the catalog has no fault ${row.fault_code}`];
  const evidence = evidenceSchema.safeParse(row.evidence);
  if (!evidence.success) return ['the evidence frozen in it cannot be read'];
  const stored = verdictSchema.safeParse(row.verdict);
  if (!stored.success) return ['the verdict stored in it cannot be read'];
  const replayed = evidenceRulesets[version.data].weigh(faultCode.data, evidence.data);
  const column =
    row.standing === replayed.standing
      ? []
      : [`it stands as ${row.standing}, and its evidence says ${replayed.standing}`];
  return [...column, ...verdictDifferences(stored.data, replayed)];
}

function verdictDifferences(stored: Verdict, replayed: Verdict): string[] {
  const { criteria: storedCriteria, ...storedHead } = stored;
  const { criteria: replayedCriteria, ...replayedHead } = replayed;
  const differences = [
    ...differingMembers('', storedHead, replayedHead),
    ...differingMembers('criterion ', byId(storedCriteria), byId(replayedCriteria)),
  ];
  if (differences.length > 0 || canonicalJson(stored) === canonicalJson(replayed)) {
    return differences;
  }
  return ['its criteria stand in another order'];
}

function byId(criteria: Verdict['criteria']): Record<string, unknown> {
  return Object.fromEntries(criteria.map((criterion) => [criterion.id, criterion]));
}

function differingMembers(
  what: string,
  stored: Record<string, unknown>,
  replayed: Record<string, unknown>,
): string[] {
  return [...new Set([...Object.keys(stored), ...Object.keys(replayed)])]
    .filter((name) => textOf(stored[name]) !== textOf(replayed[name]))
    .map((name) => `${what}${name} was ${textOf(stored[name])}, now ${textOf(replayed[name])}`);
}

function textOf(value: unknown): string {
  return value === undefined ? 'absent' : canonicalJson(value);
}

// Read in slices by id, so that memory stays flat however many there are.
async function* findings(client: pg.ClientBase): AsyncGenerator<StoredFinding> {
  let after = '00000000-0000-0000-0000-000000000000';
  for (;;) {
    const slice = await client.query<StoredFinding>(SLICE, [after]);
    yield* slice.rows;
    const last = slice.rows.at(-1);
    if (last === undefined) return;
    after = last.id;
  }
}

const SLICE = `
  SELECT id, fault_code, standing, ruleset_version, verdict, evidence
  FROM finding WHERE id > $1 ORDER BY id LIMIT 500`;
