import type { MachineSheet, VisitSheet } from '../../../seed/visits/visit-sheet.ts';
import {
  type CheckCode,
  checkWords,
  currentEvidenceRuleset,
  evidenceOfMachines,
  evidenceRulesets,
  type Observation,
  observationWords,
  type PointCode,
  pointCodeSchema,
  pointWords,
  quantitySchema,
  type Reading,
  type SystemEvidence,
  unitOfQuantity,
  type Verdict,
} from '../../../src/trade/index.ts';

/** A check on one machine. */
export type Step = { code: CheckCode; equipmentId: string };

/** What to do next, given all that is recorded and done; undefined ends the visit. */
export type Strategy = (evidence: SystemEvidence, done: readonly Step[]) => Step | undefined;

export type Played = { steps: Step[]; minutes: number; evidence: SystemEvidence };

const ruleset = evidenceRulesets[currentEvidenceRuleset];
const twoPm = Date.parse('2026-07-14T14:00:00Z');

/** Plays a visit: each check puts on record what the sheet says would come out of it. */
export function playVisit(
  sheet: VisitSheet,
  strategy: Strategy,
  isOver: (evidence: SystemEvidence, steps: readonly Step[]) => boolean,
): Played {
  let evidence = emptyEvidence(sheet);
  let minutes = 0;
  const steps: Step[] = [];
  while (!isOver(evidence, steps)) {
    const step = strategy(evidence, steps);
    if (step === undefined) break;
    steps.push(step);
    minutes += checkWords[step.code].minutes;
    evidence = record(sheet, evidence, step, minutes);
  }
  return { steps, minutes, evidence };
}

/** Everything the sheet knows, recorded at once. */
export function wholeEvidence(sheet: VisitSheet): SystemEvidence {
  const codes = Object.keys(checkWords) as CheckCode[];
  const steps = codes.flatMap((code) =>
    sheet.machines.map(({ machine }) => ({ code, equipmentId: machine.id })),
  );
  return steps.reduce((evidence, step) => record(sheet, evidence, step, 5), emptyEvidence(sheet));
}

/** Every proven verdict of every machine. */
export function proofsIn(evidence: SystemEvidence): { verdict: Verdict; equipmentId: string }[] {
  return evidenceOfMachines(evidence).flatMap((each) =>
    ruleset
      .assess(each)
      .filter(({ standing }) => standing === 'proven')
      .map((verdict) => ({ verdict, equipmentId: each.equipment.id })),
  );
}

function emptyEvidence({ machines, altitudeFt }: VisitSheet): SystemEvidence {
  return {
    machines: machines.map(({ machine }) => machine),
    ...(altitudeFt !== undefined && { altitudeFt }),
    readings: [],
    observations: [],
  };
}

/** A technician notes a thing where it is: with a furnace and a coil the drain is the coil's. */
function record(
  sheet: VisitSheet,
  evidence: SystemEvidence,
  { code, equipmentId }: Step,
  minutes: number,
): SystemEvidence {
  const at = new Date(twoPm + minutes * 60_000).toISOString();
  return {
    ...evidence,
    readings: [
      ...evidence.readings,
      ...readingsOf(sheet, equipmentId, code, at, evidence.readings),
    ],
    observations: [
      ...evidence.observations,
      ...observationsOf(sheet, equipmentId, code, at, evidence.observations),
    ],
  };
}

const outdoors = new Set(['condensing_unit', 'heat_pump']);
const both = new Set(['package_unit', 'mini_split']);

/** Where the technician notes a thing: what one side alone has, there; the rest where it was asked. */
function machinesFor(
  sheet: VisitSheet,
  on: 'outdoor' | 'indoor' | 'any',
  equipmentId: string,
): MachineSheet[] {
  const asked = sheet.machines.find(({ machine }) => machine.id === equipmentId);
  if (asked === undefined) throw new Error(`this system has no ${equipmentId}`);
  const side = on === 'any' ? (outdoors.has(asked.machine.kind) ? 'outdoor' : 'indoor') : on;
  return sheet.machines.filter(
    ({ machine: { kind } }) => both.has(kind) || outdoors.has(kind) === (side === 'outdoor'),
  );
}

function readingsOf(
  sheet: VisitSheet,
  equipmentId: string,
  code: CheckCode,
  takenAt: string,
  before: readonly Reading[],
): Reading[] {
  return checkWords[code].readings.flatMap((key) => {
    const { point, quantity } = partsOf(key);
    return machinesFor(sheet, pointWords[point].on, equipmentId).flatMap(
      ({ machine, readings }): Reading[] => {
        const measured = readings[key];
        const id = `${machine.id} ${key}`;
        if (measured === undefined || before.some((each) => each.id === id)) return [];
        return [
          {
            id,
            equipmentId: machine.id,
            point,
            quantity,
            value: measured.value,
            unit: unitOfQuantity[quantity],
            method: measured.method,
            source: 'measured',
            phase: 'found',
            takenAt,
          },
        ];
      },
    );
  });
}

function partsOf(key: string): { point: PointCode; quantity: Reading['quantity'] } {
  const [point, quantity] = key.split('.');
  return { point: pointCodeSchema.parse(point), quantity: quantitySchema.parse(quantity) };
}

/** A technician who sees something takes its photo. */
const photoSha256 = 'a'.repeat(64);

function observationsOf(
  sheet: VisitSheet,
  equipmentId: string,
  code: CheckCode,
  at: string,
  before: readonly Observation[],
): Observation[] {
  const seen = (
    id: string,
    observation: (typeof checkWords)[CheckCode]['observations'][number],
    answer: 'yes' | 'no' | undefined,
    where: { equipmentId?: string },
  ): Observation[] => {
    if (answer === undefined || before.some((each) => each.id === id)) return [];
    const photo = answer === 'yes' ? { photoSha256 } : {};
    const said = { code: observation, answer, source: 'observed', phase: 'found', at } as const;
    return [{ id, ...where, ...photo, ...said }];
  };
  return checkWords[code].observations.flatMap((observation) =>
    sheet.house[observation] !== undefined
      ? seen(
          `house ${observation}`,
          observation,
          sheet.house[observation],
          observationWords[observation].about === 'house' ? {} : { equipmentId },
        )
      : machinesFor(sheet, observationWords[observation].on, equipmentId).flatMap(
          ({ machine, observations }) =>
            seen(`${machine.id} ${observation}`, observation, observations[observation], {
              equipmentId: machine.id,
            }),
        ),
  );
}
