import type { z } from 'zod';
import {
  callsPerThousand,
  currentEvidenceRuleset,
  evidenceRulesets,
  type FaultEntry,
  fanMotorSchema,
  faultCatalog,
  meteringDeviceSchema,
  type Nameplate,
  taskWords,
} from '../trade/index.ts';
import type { faultEntrySchema } from './catalog-contract.ts';

type FaultAnswer = z.input<typeof faultEntrySchema>;

let described: readonly FaultAnswer[] | undefined;

/** The catalog as the API shows it; made once, as the rules are asked a few hundred times for it. */
export function describeFaults(): readonly FaultAnswer[] {
  described ??= faultCatalog.map(describeFault);
  return described;
}

/** A fault of the catalog as the API shows it: all that is known of it, and the heads of its rules. */
function describeFault(fault: FaultEntry): FaultAnswer {
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
    criteria: criteriaOf(fault),
    remedies: fault.remedies.map((remedy) => ({
      task: remedy.task,
      taskName: taskWords[remedy.task].name,
      remedyClass: remedy.remedyClass,
      needs: remedy.needs,
      partCategories: [...remedy.partCategories],
      kinds: [...(remedy.kinds ?? fault.kinds)],
    })),
  };
}

/**
 * The heads of the signs, asked of the rules themselves: each as it is weighed on a machine of
 * which nothing is recorded, whatever its plate says of the parts that decide which signs there are.
 */
function criteriaOf({ code, kinds: [kind] }: FaultEntry): FaultAnswer['criteria'] {
  if (kind === undefined) throw new Error(`${code} is found on no machine`);
  const heads = plates.flatMap((nameplate) =>
    evidenceRulesets[currentEvidenceRuleset]
      .weigh(code, { equipment: { id: 'any', kind, nameplate }, readings: [], observations: [] })
      .criteria.map(({ id, statement, direction, weight }) => ({
        id,
        statement,
        direction,
        weight,
      })),
  );
  return [...new Map(heads.map((head) => [Object.values(head).join('\n'), head])).values()];
}

/** The plate with nothing on it comes first, so that the signs of every machine do. */
const plates: readonly Nameplate[] = [
  {},
  ...fanMotorSchema.options.map((fanMotor) => ({ fanMotor })),
  ...meteringDeviceSchema.options.map((meteringDevice) => ({ meteringDevice })),
  { targetSubcoolingDegF: 10 },
];

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
