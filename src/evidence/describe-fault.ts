import type { z } from 'zod';
import { callsPerThousand, type FaultEntry, taskWords } from '../trade/index.ts';
import type { faultEntrySchema } from './catalog-contract.ts';

type FaultAnswer = z.input<typeof faultEntrySchema>;

/** A fault of the catalog as the API shows it: all that is known of it but its rules. */
export function describeFault(fault: FaultEntry): FaultAnswer {
  return {
    code: fault.code,
    name: fault.name,
    explanation: fault.explanation,
    partOfSystem: fault.partOfSystem,
    kinds: [...fault.kinds],
    role: fault.role,
    ...searchBehind(fault),
    dear: fault.dear,
    cautions: [...fault.cautions],
    exclusions: fault.exclusions.map(({ statement, doneWhen }) => ({
      statement,
      doneWhen: doneWhen.map(toLookedAt),
    })),
    callsPerThousand: callsPerThousand(fault.code),
    remedies: fault.remedies.map((remedy) => ({
      task: remedy.task,
      taskName: taskWords[remedy.task].name,
      remedyClass: remedy.remedyClass,
      needs: remedy.needs,
      partCategories: [...remedy.partCategories],
    })),
  };
}

function searchBehind(fault: FaultEntry): Pick<FaultAnswer, 'notTheCause' | 'causeSearch'> {
  if (fault.role === 'cause') return { notTheCause: null, causeSearch: null };
  const { lookFor, recordedBy } = fault.causeSearch;
  return {
    notTheCause: fault.notTheCause,
    causeSearch: { lookFor, recordedBy: recordedBy.map(toLookedAt) },
  };
}

type LookedAt = FaultEntry['exclusions'][number]['doneWhen'][number];

function toLookedAt(sign: LookedAt): FaultAnswer['exclusions'][number]['doneWhen'][number] {
  return 'observation' in sign
    ? { observation: sign.observation, answers: [...sign.answers] }
    : { point: sign.point, quantity: sign.quantity };
}
