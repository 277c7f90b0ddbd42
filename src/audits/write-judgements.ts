import type { JobJudgement } from '../auditing/index.ts';
import { canonicalJson } from '../platform/canonical-json.ts';
import type { Sql } from '../platform/database/database.ts';
import type { RaisedFlag } from './raised-flags.ts';

/** A judgement with what it changes of the flags of its ticket. */
export interface JudgedTicket {
  readonly ticketId: string;
  readonly endedAt: Date;
  readonly factsHash: string;
  readonly rulesetVersion: string;
  readonly overCents: number;
  /** Of the flags that wait for an answer. */
  readonly openCents: number;
  readonly flagCount: number;
  readonly cannotJudge: JobJudgement['cannotJudge'];
  readonly newFlags: readonly RaisedFlag[];
  readonly openAgain: readonly string[];
  readonly gone: readonly string[];
}

/** Stores judgements, each kind of row with one statement. */
export async function writeJudgements(
  sql: Sql,
  judged: readonly JudgedTicket[],
  { now, newId }: { now: Date; newId(): string },
): Promise<void> {
  const newFlags = judged.flatMap(({ ticketId, rulesetVersion, newFlags }) =>
    newFlags.map((flag) => ({ ...flag, id: newId(), ticketId, rulesetVersion })),
  );
  if (newFlags.length > 0) {
    const rows = newFlags.map(({ sentences, corrections, ...flag }) => ({
      ...flag,
      sentences: canonicalJson(sentences),
      corrections: canonicalJson(corrections),
    }));
    await sql.query(NEW_FLAGS, [JSON.stringify(rows), now]);
  }
  const moved = (state: string, ids: readonly string[]) =>
    ids.length === 0 ? undefined : sql.query(MOVE, [ids, state, now]);
  await moved(
    'gone',
    judged.flatMap(({ gone }) => gone),
  );
  await moved(
    'open',
    judged.flatMap(({ openAgain }) => openAgain),
  );
  const rows = judged.map(({ newFlags: _, openAgain: __, gone: ___, cannotJudge, ...row }) => ({
    ...row,
    cannotJudge: canonicalJson(cannotJudge),
  }));
  await sql.query(JUDGEMENTS, [JSON.stringify(rows), now]);
}

// JSON inside the rows is sent as text, so that it is stored letter by letter.
const NEW_FLAGS = `
  WITH raised AS (INSERT INTO audit_flag (id, ticket_id, rule_code, fingerprint, severity, sentences, corrections,
    over_cents, ruleset_version, raised_at)
  SELECT r.id, r."ticketId", r."ruleCode", r.fingerprint, r.severity, r.sentences::json,
    r.corrections::json, r."overCents", r."rulesetVersion", $2
  FROM json_to_recordset($1::json) AS r(id uuid, "ticketId" uuid, "ruleCode" text, fingerprint text,
    severity text, sentences text, corrections text, "overCents" integer, "rulesetVersion" text)
    RETURNING id)
  INSERT INTO audit_flag_state (flag_id, changed_at) SELECT id, $2 FROM raised`;

const MOVE = `
  UPDATE audit_flag_state SET state = $2, version = version + 1, changed_at = $3
  WHERE flag_id = ANY ($1)`;

const JUDGEMENTS = `
  INSERT INTO audit_judgement (ticket_id, ruleset_version, facts_hash, ended_at, judged_at,
    over_cents, open_cents, flag_count, cannot_judge)
  SELECT r."ticketId", r."rulesetVersion", r."factsHash", r."endedAt", $2, r."overCents",
    r."openCents", r."flagCount", r."cannotJudge"::json
  FROM json_to_recordset($1::json) AS r("ticketId" uuid, "rulesetVersion" text, "factsHash" text,
    "endedAt" timestamptz, "overCents" integer, "openCents" integer,
    "flagCount" integer, "cannotJudge" text)
  ON CONFLICT (ticket_id) DO UPDATE SET ruleset_version = excluded.ruleset_version,
    facts_hash = excluded.facts_hash, ended_at = excluded.ended_at, judged_at = excluded.judged_at,
    over_cents = excluded.over_cents, open_cents = excluded.open_cents, flag_count = excluded.flag_count,
    cannot_judge = excluded.cannot_judge, version = audit_judgement.version + 1`;
