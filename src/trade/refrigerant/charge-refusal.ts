import type { RefrigerantRefusal } from './refrigerant-refusal.ts';
import { type RefrigerantCode, refrigerants } from './refrigerants.ts';

/**
 * Refuses to put a refrigerant into a unit; undefined when it is the one on the nameplate. An
 * unread nameplate refuses until it is recorded. An A2L goes only into new equipment made and
 * marked for it, never into a retrofit: 40 CFR 82 subpart G, appendix W. That nothing else goes
 * onto another refrigerant is common practice and every manufacturer's condition.
 * Worked: R-410A into R-410A -> allowed; R-410A into R-22 -> refused; R-454B into R-410A -> refused
 * as a retrofit with an A2L.
 */
export function chargeRefusal(
  refrigerant: RefrigerantCode,
  nameplateRefrigerant: RefrigerantCode | undefined,
): RefrigerantRefusal | undefined {
  if (nameplateRefrigerant === undefined) {
    return {
      code: 'nameplate_refrigerant_unknown',
      message: 'Record the refrigerant on the nameplate first.',
      source: 'common practice',
    };
  }
  if (refrigerant === nameplateRefrigerant) return undefined;
  if (refrigerants[refrigerant].safetyGroup === 'A2L') {
    return {
      code: 'a2l_retrofit',
      message: `The nameplate says ${nameplateRefrigerant}. ${refrigerant} can burn: it goes only into equipment made and marked for it, never into another as a replacement.`,
      source: '40 CFR 82 subpart G, appendix W',
    };
  }
  return {
    code: 'other_refrigerant',
    message: `The nameplate says ${nameplateRefrigerant}. ${refrigerant} does not go into it, not even to top up.`,
    source: 'common practice',
  };
}
