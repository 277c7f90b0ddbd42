import { canonicalJson } from '../platform/canonical-json.ts';
import { sqlOf, type Tx } from '../platform/database/database.ts';
import { sha256 } from '../platform/sha256.ts';
import { recordFacts } from './record-facts.ts';
import { workRecordOf } from './work-record-of.ts';

/**
 * Freezes the record of what was found and done, in the closing's own transaction: names, readings,
 * parts and refrigerant as they are on record then. Work that was closed before there were records
 * is recorded when its paper is first asked for; one that is recorded already stays.
 */
export async function recordWork(tx: Tx, closingId: string): Promise<void> {
  const text = canonicalJson(workRecordOf(await recordFacts(tx, closingId)));
  await sqlOf(tx).query(RECORD, [closingId, text, sha256(text)]);
}

const RECORD = `
  INSERT INTO work_record (closing_id, paper, content_hash) VALUES ($1, $2, $3)
  ON CONFLICT (closing_id) DO NOTHING`;
