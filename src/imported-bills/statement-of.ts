import { auditRulesets } from '../auditing/index.ts';

/** What has to hold by a rule, in one sentence. Rules keep their codes from one version to the next. */
export function statementOf(ruleCode: string): string {
  const rule = Object.values(auditRulesets)
    .flatMap(({ rules }) => rules)
    .findLast(({ code }) => code === ruleCode);
  if (rule === undefined) throw new Error(`no rule has the code ${ruleCode}`);
  return rule.statement;
}
