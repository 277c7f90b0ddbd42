import type { Facts } from '../../facts/admit-evidence.ts';
import { closedDrop } from '../../facts/closed-drop.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighLimit } from '../../verdicts/weigh-limit.ts';
import type { CriterionHead } from '../../verdicts/weigh-observation.ts';
import type { MeasuredLabel } from '../../words/measured-labels.ts';

/** A criterion on the voltage across something closed in the line, judged under load only. */
export function weighDrop(
  facts: Facts,
  head: CriterionHead,
  rule: {
    point: 'breaker' | 'line_connection';
    label: MeasuredLabel;
    metWhen: 'above' | 'below';
    limit: number;
  },
): Weighed {
  const { point, ...limits } = rule;
  const { settled, load, unusable } = closedDrop(facts, point);
  return weighLimit(head, settled, {
    ...limits,
    because: 'a sound one drops less than',
    provided: [{ holds: unusable === undefined, otherwise: unusable ?? '', ...load }],
  });
}
