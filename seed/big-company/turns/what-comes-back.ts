import { isRecall, type Mended, recalledFaults } from '../history.ts';
import type { Scenario } from '../scenarios.ts';
import type { ComesBack } from './returns.ts';

/** What comes again of what was mended at a system, the way it is to; undefined where nothing does. */
export function whatComesBack(
  known: readonly Mended[],
  { how, arrivedAt, day, mayHandle }: Asked,
): Scenario | undefined {
  const back = recalledFaults(known, { arrivedAt, day });
  const found = known.findLast(({ scenario, laborWarrantyUntil, partsWentIn }) => {
    if (!mayHandle && scenario.findings.some(({ fault }) => fault === 'low_charge')) return false;
    if (how === 'recall') {
      return laborWarrantyUntil === day && isRecall(known, scenario, { arrivedAt, day });
    }
    const isOver = scenario.findings.every(({ fault }) => !back.has(fault));
    return partsWentIn && isOver && scenario.override === undefined && isPart(scenario);
  });
  return found?.scenario;
}

interface Asked {
  how: ComesBack;
  arrivedAt: Date;
  day: string;
  /** Whether whoever comes may handle refrigerant. */
  mayHandle: boolean;
}

/** What wears out, and is no consumable. */
function isPart({ findings }: Scenario): boolean {
  return findings.every(
    ({ fault }) => fault.startsWith('run_capacitor_') || fault === 'worn_contactor',
  );
}
