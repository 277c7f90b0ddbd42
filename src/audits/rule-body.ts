import { type AuditRule, auditRulesets, type Severity } from '../auditing/index.ts';

interface NamedRule {
  code: string;
  statement: string;
  severity: Severity;
  source: string;
}

/**
 * The rule of a flag as the version says it by which it was raised, with what this flag asks for: one
 * of a rule about money may have nothing to give back, and ask for a look alone.
 */
export function ruleBody({
  ruleCode,
  rulesetVersion,
  severity,
}: {
  ruleCode: string;
  rulesetVersion: string;
  severity: string;
}): NamedRule {
  const ruleset = Object.values(auditRulesets).find(({ version }) => version === rulesetVersion);
  const rule = ruleset?.rules.find(({ code }) => code === ruleCode);
  const known = severity === 'owed' || severity === 'look' ? severity : 'record';
  if (rule !== undefined) return { ...ruleWords(rule), severity: known };
  // Of a newer version of this program, while both serve.
  return { code: ruleCode, statement: ruleCode, severity: known, source: rulesetVersion };
}

/** What is shown of a rule. */
export function ruleWords({ code, statement, severity, source }: AuditRule): NamedRule {
  return { code, statement, severity, source };
}
