import type { Facts } from '../../facts/admit-evidence.ts';
import { contactorDropVolts, everyPole } from '../../facts/contactor-drop.ts';
import type { Condition } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';

/** That each pole of the contactor passes its voltage: burnt contacts starve a sound compressor just when it starts. */
export function whenContactsClose(facts: Facts): Condition[] {
  return everyPole(facts).map((pole) =>
    whenMeasured(pole, 'drop across each pole of the contactor', 'below', contactorDropVolts.due),
  );
}
