import type { RemedyClass, WorkItem } from './pricing-inputs.ts';

/** What a remedy class lets the company charge, when the work is not a recall. */
const chargedByClass: Record<RemedyClass, 'materials_and_time' | 'materials' | 'nothing'> = {
  reset: 'materials',
  clean: 'materials_and_time',
  adjust: 'materials_and_time',
  repair: 'materials_and_time',
  replace: 'materials_and_time',
  accessory: 'materials_and_time',
  diagnose: 'materials_and_time',
  advise: 'nothing',
};

/** Whether the work stands on the paper at all: advice leaves nothing to charge or to give free. */
export function standsOnPaper(work: WorkItem): boolean {
  return chargedByClass[work.remedyClass] !== 'nothing';
}

/** Whether the work's labor, and with it its access, is charged at all. */
export function chargesTime(work: WorkItem): boolean {
  return !work.recall && chargedByClass[work.remedyClass] === 'materials_and_time';
}

/** Why nobody may raise what the work's materials cost; undefined where the fair band decides. */
export function materialsAreFixedBy(
  work: WorkItem,
  isFree: boolean,
): 'free_line_charged' | 'reset_raised' | undefined {
  if (isFree) return 'free_line_charged';
  return work.remedyClass === 'reset' ? 'reset_raised' : undefined;
}

export const recallSentence =
  'No charge: the same fault of this system came back within our labor warranty.';
