import type { PricingRefusal } from './priced-quote.ts';
import type { OptionInputs, WorkItem } from './pricing-inputs.ts';

/** One finding is remedied, and paid, once per option; one part of a task stands on one line. */
export function refuseUnfitWork(option: OptionInputs, optionPointer: string): PricingRefusal[] {
  const refusals: PricingRefusal[] = [];
  const findingIds = new Set<string>();
  option.work.forEach((work, at) => {
    const pointer = `${optionPointer}/work/${at}`;
    for (const id of [work.findingId, ...(work.alsoFindingIds ?? [])]) {
      if (findingIds.has(id)) refusals.push(duplicateFinding(id, pointer));
      findingIds.add(id);
    }
    refusals.push(...refuseRepeatedParts(work, pointer));
  });
  return refusals;
}

function duplicateFinding(id: string, workPointer: string): PricingRefusal {
  return {
    code: 'duplicate_finding',
    message: `Finding '${id}' is already remedied by another task of this option.`,
    pointer: `${workPointer}/findingId`,
  };
}

function refuseRepeatedParts(work: WorkItem, workPointer: string): PricingRefusal[] {
  const codes = new Set<string>();
  return work.parts.flatMap(({ code }, at): PricingRefusal[] => {
    if (!codes.has(code)) {
      codes.add(code);
      return [];
    }
    return [
      {
        code: 'duplicate_part',
        message: `Part '${code}' stands twice in one task; raise its quantity instead.`,
        pointer: `${workPointer}/parts/${at}/code`,
      },
    ];
  });
}
