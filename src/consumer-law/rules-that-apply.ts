import type { ConsumerRule } from './consumer-rule.ts';

/**
 * The rules that a sale of this size falls under. "In excess of 500 dollars" and "500 dollars or
 * more" are both read as from there on: the paper then says rather too much.
 * @param totalCents of the dearest thing that may be agreed to
 */
export function rulesThatApply<R extends Pick<ConsumerRule, 'appliesFromCents'>>(
  rules: readonly R[],
  totalCents: number,
): R[] {
  return rules.filter(({ appliesFromCents }) => totalCents >= appliesFromCents);
}
