import type { Correction, RuleAnswer } from './rules/audit-rule.ts';

/** What a rule asks to be given back, alike in a flag that is stored and in one that is found now. */
export interface AskedBack {
  readonly ruleCode: string;
  readonly corrections: readonly Correction[];
  /** What its corrections come to, tax included. */
  readonly overCents: number;
}

/**
 * Whether a flag that the owner dismissed answers for one that is found now: everything that it would
 * lower was to be lowered to the same for the same reason, and no more of it is asked back than was.
 * So it answers for what is left of it after something was given back, too. What the tax should be
 * and what a yes credits of the fee follow every memo, so of these nothing but the amount is compared.
 * @param found with what of it stands beside what was dismissed (`jobs/asked-back-cents.ts`)
 */
export function answersFor(dismissed: AskedBack, found: AskedBack): boolean {
  if (dismissed.ruleCode !== found.ruleCode || found.corrections.length === 0) return false;
  if (found.overCents > dismissed.overCents) return false;
  return found.corrections.every((each) =>
    dismissed.corrections.some((known) => isSame(known, each)),
  );
}

/**
 * What is still to be weighed of an answer after dismissals: nothing of what they answer for, be it
 * that something of it is left or not.
 */
export function lessDismissed(
  ruleCode: string,
  answer: RuleAnswer,
  dismissed: readonly AskedBack[],
): RuleAnswer {
  if (answer.outcome === 'cannot_judge' || answer.settled === undefined) return answer;
  const known = dismissed
    .filter((each) => each.ruleCode === ruleCode)
    .flatMap(({ corrections }) => corrections);
  const settled = answer.settled.filter((each) => !known.some((one) => isSameReason(one, each)));
  return { ...answer, settled };
}

function isSame(known: Correction, found: Correction): boolean {
  return (
    known.invoiceId === found.invoiceId &&
    known.position === found.position &&
    known.key === found.key &&
    (followsMemos(found) || known.toCents === found.toCents) &&
    known.asFeeCredit === found.asFeeCredit &&
    known.notOwed === found.notOwed &&
    isSameReason(known, found)
  );
}

function followsMemos({ key, asFeeCredit }: Correction): boolean {
  return key === 'tax' || asFeeCredit === true;
}

/** A flag that was stored before reasons were kept with it answers for any. */
function isSameReason({ because: known }: Correction, { because: found }: Correction): boolean {
  if (known === undefined || found === undefined) return known === undefined;
  return known.length === found.length && known.every((each) => found.includes(each));
}
