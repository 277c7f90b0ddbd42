import { check, exclusion, type GuardCase } from '../guard-case.ts';
import { consumerRuleRow } from '../life-rows.ts';
import { signed } from './record-cases.ts';

/** Guards of what a jurisdiction asks of quotes. */
export const consumerRuleCases: GuardCase[] = [
  {
    title: 'a rule holds for at least a day',
    guard: 'consumer_rule_days_forward',
    sqlState: check,
    breaks: [consumerRuleRow({ effective_to: '2027-01-01' })],
    allows: [[consumerRuleRow({ effective_to: '2027-01-02' })], [consumerRuleRow()]],
  },
  {
    title: 'on one day one version of a rule holds; the next may begin where it ends',
    guard: 'consumer_rule_one_per_day',
    sqlState: exclusion,
    breaks: [consumerRuleRow({ effective_from: '2026-12-31' })],
    allows: [
      [consumerRuleRow()],
      [consumerRuleRow({ effective_from: '2026-12-31', code: 'five_days' })],
      [consumerRuleRow({ effective_from: '2026-12-31', jurisdiction: 'QY' })],
    ],
  },
  signed('consumer_rule_created_by_fkey', consumerRuleRow, 'created_by_id'),
];
