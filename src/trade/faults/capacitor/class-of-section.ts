import type { Facts } from '../../facts/admit-evidence.ts';
import { type Section, weighSection } from './weigh-section.ts';

/** What the capacitance of a section comes to; undefined while the method leaves it undecided. */
export function classOfSection(
  facts: Facts,
  section: Section,
): 'failed' | 'weak' | 'fine' | undefined {
  const outcomes = new Map(
    weighSection(facts, section).map(({ criterion }) => [criterion.id, criterion.outcome]),
  );
  if (outcomes.get('failed') === 'met') return 'failed';
  if (outcomes.get('within_tolerance') === 'met') return 'fine';
  const isWeak = outcomes.get('failed') === 'not_met' && outcomes.get('out_of_tolerance') === 'met';
  return isWeak ? 'weak' : undefined;
}
