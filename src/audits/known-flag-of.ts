import { canonicalJson } from '../platform/canonical-json.ts';
import type { RaisedFlag } from './raised-flags.ts';

/** What a stored flag is known by. */
export interface KnownFlag {
  ruleCode: string;
  fingerprint: string;
  /** Canonical JSON. */
  corrections: string;
  overCents: number;
  state: string;
}

/**
 * The stored flag that a raised one is: the one that says the same, else one that the owner dismissed
 * and of which this is what is left after something was given back.
 */
export function knownFlagOf<Known extends KnownFlag>(
  flag: RaisedFlag,
  known: readonly Known[],
): Known | undefined {
  return (
    known.find((each) => isSame(each, flag)) ?? known.find((each) => isWhatWasLeft(each, flag))
  );
}

function isSame(known: KnownFlag, flag: RaisedFlag): boolean {
  return known.ruleCode === flag.ruleCode && known.fingerprint === flag.fingerprint;
}

function isWhatWasLeft(known: KnownFlag, flag: RaisedFlag): boolean {
  return (
    known.state === 'dismissed' &&
    known.ruleCode === flag.ruleCode &&
    flag.corrections.length > 0 &&
    flag.overCents <= known.overCents &&
    known.corrections === canonicalJson(flag.corrections)
  );
}
