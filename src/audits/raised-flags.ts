import type { JobFlag, JobJudgement } from '../auditing/index.ts';
import { canonicalJson } from '../platform/canonical-json.ts';
import { sha256 } from '../platform/sha256.ts';

/** A flag with what it is known by. */
export interface RaisedFlag extends JobFlag {
  readonly fingerprint: string;
}

/**
 * The flags of a judgement that say something: what only asks for money of which nothing is left was
 * put right before. Where charges are named a flag is known by them and what they would have come
 * to, so that other words for the same are the same flag; where none is, by its words.
 */
export function raisedFlags({ flags }: Pick<JobJudgement, 'flags'>): RaisedFlag[] {
  return flags
    .filter(({ corrections, overCents }) => corrections.length === 0 || overCents > 0)
    .map((flag) => ({ ...flag, fingerprint: fingerprintOf(flag) }));
}

function fingerprintOf({ sentences, corrections, overCents }: JobFlag): string {
  return sha256(canonicalJson(corrections.length === 0 ? sentences : { corrections, overCents }));
}
