import { currentAuditRuleset } from '../auditing/index.ts';
import type { ReportedRule } from './contract.ts';
import type { Matter, SeenJob } from './count-jobs.ts';

/** What each rule said of the jobs that passed by, by its code. */
export type RuleTally = Map<string, RuleCounts>;

type Counted = Omit<ReportedRule, 'code' | 'statement' | 'source' | 'severity' | 'missing'>;

interface RuleCounts extends Record<keyof Counted, number> {
  /** What was not known where it could not be told. */
  readonly missing: Set<string>;
}

export function startRules(): RuleTally {
  return new Map(currentAuditRuleset.rules.map(({ code }) => [code, noCounts()]));
}

/** Counts one more job into a tally, which is changed by it. */
export function addToRules(tally: RuleTally, { flags, cannotJudge, has }: SeenJob): void {
  for (const flag of flags) {
    const counts = tally.get(flag.code);
    if (counts !== undefined) addFlag(counts, flag);
  }
  const unknown = new Set(cannotJudge.map(({ ruleCode }) => ruleCode));
  for (const [code, counts] of tally) {
    if (unknown.has(code)) counts.notJudged += 1;
    else if (isAbout(code, has) || flags.some((flag) => flag.code === code)) counts.judged += 1;
  }
  for (const { ruleCode, missing } of cannotJudge) {
    for (const what of missing) tally.get(ruleCode)?.missing.add(what);
  }
}

/** Every rule in force, in the order in which they are shown. */
export function reportedRules(tally: RuleTally): ReportedRule[] {
  return currentAuditRuleset.rules.map(({ code, statement, source, severity }) => {
    const { missing, ...counts } = tally.get(code) ?? noCounts();
    return { code, statement, source, severity, ...counts, missing: [...missing].sort() };
  });
}

function addFlag(counts: RuleCounts, { state, overCents }: SeenJob['flags'][number]): void {
  counts[state] += 1;
  if (state === 'open') counts.openCents += overCents;
  if (state === 'accepted') counts.givenBackCents += overCents;
}

function noCounts(): RuleCounts {
  const money = { openCents: 0, givenBackCents: 0 };
  const flags = { open: 0, accepted: 0, dismissed: 0 };
  return { ...money, ...flags, judged: 0, notJudged: 0, missing: new Set() };
}

/** Whether there is anything on a job that a rule could speak of. */
function isAbout(code: string, has: SeenJob['has']): boolean {
  const matter = MATTERS[code];
  if (matter === undefined) return true;
  return matter !== 'imported bill' && has[matter];
}

/** What each rule speaks of; one that is not here speaks of every job. */
const MATTERS: Readonly<Record<string, Matter | 'imported bill'>> = {
  reset_billed_as_repair: 'reset',
  line_without_finding: 'bill',
  above_ceiling: 'bill',
  differs_from_book: 'bill',
  access_charged_twice: 'sale',
  fee_not_credited: 'sale',
  fee_charged_twice: 'bill',
  warranted_part_charged: 'sale',
  recall_charged: 'bill',
  duplicate_part: 'sale',
  parts_not_used: 'sale',
  refrigerant_without_record: 'work',
  work_before_yes: 'sale',
  tax_wrong: 'bill',
  hours_beyond_clock: 'imported bill',
  cancelled_after_time_on_site: 'cancellation',
  reading_after_quote: 'sale',
  reset_without_cause: 'reset',
  sum_not_split: 'imported bill',
};
