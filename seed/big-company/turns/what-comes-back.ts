import { isRecall, type Mended, recalledFaults } from '../history.ts';
import type { Scenario } from '../scenarios.ts';
import type { ComesBack } from './returns.ts';

/** What comes again of what was mended at a system, the way it is to; undefined where nothing does. */
export function whatComesBack(
  known: readonly Mended[],
  { how, arrivedAt, day, mayHandle }: Asked,
): Scenario | undefined {
  const back = recalledFaults(known, { arrivedAt, day });
  const found = known.findLast(
    ({ scenario, laborWarrantyUntil, partsWentIn, arrivedAt: mendedAt }) => {
      if (!mayHandle && scenario.findings.some(({ fault }) => fault === 'low_charge')) return false;
      if (how === 'recall') {
        return laborWarrantyUntil === day && isRecall(known, scenario, { arrivedAt, day });
      }
      const isLately = arrivedAt.getTime() - mendedAt.getTime() < WITHIN_DAYS * DAY_MS;
      const isOver = scenario.findings.every(({ fault }) => !back.has(fault));
      return (
        isLately && partsWentIn && isOver && scenario.override === undefined && isPart(scenario)
      );
    },
  );
  return found?.scenario;
}

/** Within a year, whatever the hour of the day; what is older is nobody's question any more. */
const WITHIN_DAYS = 360;
const DAY_MS = 86_400_000;

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
