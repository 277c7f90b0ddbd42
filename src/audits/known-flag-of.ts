import { type AskedBack, answersFor } from '../auditing/index.ts';
import type { RaisedFlag } from './raised-flags.ts';
import { readCorrections } from './read-corrections.ts';

/** What a stored flag is known by. */
export interface KnownFlag {
  ruleCode: string;
  fingerprint: string;
  /** As JSON. */
  corrections: string;
  overCents: number;
  state: string;
}

/**
 * The stored flag that a raised one is: the one that says the same, else one that the owner dismissed
 * and that answers for it, because it is what is left of it after something was given back.
 */
export function knownFlagOf<Known extends KnownFlag>(
  flag: RaisedFlag,
  known: readonly Known[],
): Known | undefined {
  return (
    known.find((each) => isSame(each, flag)) ?? known.find((each) => isDismissedAs(each, flag))
  );
}

/** What the owner dismissed of the flags of a ticket. */
export function dismissedOf(known: readonly KnownFlag[]): AskedBack[] {
  return known.filter(({ state }) => state === 'dismissed').map(askedBack);
}

function isSame(known: KnownFlag, flag: RaisedFlag): boolean {
  return known.ruleCode === flag.ruleCode && known.fingerprint === flag.fingerprint;
}

function isDismissedAs(known: KnownFlag, { isDismissed, ...flag }: RaisedFlag): boolean {
  if (known.state !== 'dismissed' || isDismissed !== true) return false;
  // Whether it asks for more was looked at without what others bring about.
  const overCents = Math.min(flag.overCents, known.overCents);
  return answersFor(askedBack(known), { ...flag, overCents });
}

function askedBack({ ruleCode, corrections, overCents }: KnownFlag): AskedBack {
  return { ruleCode, corrections: readCorrections(JSON.parse(corrections)), overCents };
}
