import { z } from 'zod';
import type { Machine } from '../evidence.ts';
import type { Facts } from '../facts/admit-evidence.ts';
import { readKeysOf } from '../facts/read-keys.ts';
import { faultCodeSchema, faults } from '../faults/catalog.ts';
import { cautions } from '../faults/cautions.ts';
import { standingSchema } from '../verdicts/verdict.ts';
import type { CheckWords } from '../words/checks/check.ts';
import { checkCodeSchema, checkWords } from '../words/checks.ts';
import { observationCodeSchema } from '../words/observations.ts';
import { placeClues } from './clues.ts';
import { openChecks } from './open-checks.ts';
import { posterior, type VerdictsOf, type Weighted } from './posterior.ts';
import type { Priors } from './priors.ts';
import { type RankedCheck, rankChecks } from './rank-checks.ts';
import { sayWhy } from './say-why.ts';
import { type Side, type Sides, sidesOf } from './sides.ts';
import { suspectRows } from './suspect-rows.ts';
import { suspectsOf } from './suspects.ts';

/** One thing that may be behind the call. */
export const suspectSchema = z.strictObject({
  faultCode: faultCodeSchema.nullable().meta({ description: 'Null: something else.' }),
  name: z.string(),
  equipmentId: z.string().nullable(),
  share: z.number().meta({ description: 'How likely by now, from 0 to 1; all add up to 1.' }),
  standing: standingSchema.nullable(),
});

/** One check worth doing next, the best first. */
export const nextCheckSchema = z.strictObject({
  code: checkCodeSchema,
  ask: z.string(),
  equipmentId: z.string().meta({ description: 'The machine to note it on.' }),
  minutes: z.number(),
  care: z.enum(['look', 'power_off', 'live', 'gauges']),
  needsCertificate: z.boolean(),
  cautions: z.array(z.string()).meta({ description: 'What this kind of check can do to a hand.' }),
  reason: z.string(),
  informationBits: z.number(),
  observations: z.array(observationCodeSchema),
  readings: z.array(z.string()).meta({ description: 'Each as point.quantity.' }),
});

/** Who is suspected, and what to check next. Ranks only; it never proves anything. */
export const adviceSchema = z.strictObject({
  suspects: z.array(suspectSchema),
  nextChecks: z.array(nextCheckSchema),
  priors: z.strictObject({
    basis: z.enum(['common_practice', 'own_tickets']),
    ticketCount: z.int(),
  }),
});
export type Advice = z.infer<typeof adviceSchema>;

/** How many suspects are worth naming; the rest is said to be something else or nothing. */
const suspectShareMin = 0.01;

/**
 * The suspects of a system and the checks not done yet, each in the order of its worth.
 * @param factsOf what counts of the evidence on each machine, by its id
 */
export function advise(
  machines: readonly Machine[],
  factsOf: ReadonlyMap<string, Facts>,
  verdictsOf: VerdictsOf,
  priors: Priors,
): Advice {
  const sides = sidesOf(machines);
  const clues = placeClues(sides, factsOf);
  const suspects = suspectsOf(sides, priors);
  const rows = suspectRows(suspects, sides.isOneMachine);
  const weighted = posterior(suspects, rows, clues, verdictsOf);
  const likeliest = likeliestFirst(weighted);
  return {
    suspects: toSuspects(likeliest),
    nextChecks: rankChecks(weighted, rows, openChecks(clues, readOf(factsOf), sides))
      .slice(0, nextCheckCountMax)
      .map((each) => toNextCheck(each, likeliest, sides)),
    priors: { basis: priors.basis, ticketCount: priors.ticketCount },
  };
}

/** Nobody reads further down; after each check the list is made anew. */
const nextCheckCountMax = 12;

/** Everything that was read, each as point.quantity. */
function readOf(factsOf: ReadonlyMap<string, Facts>): Set<string> {
  const read = new Set<string>();
  for (const facts of factsOf.values()) {
    for (const key of readKeysOf(facts)) read.add(key);
  }
  return read;
}

/** Each fault of each machine once, in whatever way it looks. */
function likeliestFirst(weighted: readonly Weighted[]): Weighted[] {
  const once = new Map(weighted.map((each) => [each.suspect.seat, each]));
  return [...once.values()].sort((a, b) => b.shareOfFault - a.shareOfFault);
}

function toSuspects(likeliest: readonly Weighted[]): Advice['suspects'] {
  return likeliest
    .filter(
      ({ shareOfFault, suspect }) =>
        shareOfFault >= suspectShareMin || suspect.fault === 'something_else',
    )
    .map(({ suspect, shareOfFault: share, standing = null }) =>
      suspect.fault === 'something_else'
        ? { faultCode: null, name: 'Something else', equipmentId: null, share, standing }
        : {
            faultCode: suspect.fault,
            name: faults[suspect.fault].name,
            equipmentId: suspect.machine.id,
            share,
            standing,
          },
    );
}

function toNextCheck(
  ranked: RankedCheck,
  likeliest: readonly Weighted[],
  sides: Sides,
): Advice['nextChecks'][number] {
  const { ask, on, minutes, care, observations, readings } = checkWords[ranked.code];
  return {
    code: ranked.code,
    ask: on === 'any' && !sides.isOneMachine ? `${whereAsked[ranked.side]}: ${ask}` : ask,
    equipmentId: machineFor(ranked, likeliest, sides),
    minutes,
    care,
    needsCertificate: care === 'gauges',
    cautions: [...cautionsOfCare[care]],
    reason: sayWhy(ranked, likeliest),
    informationBits: ranked.informationBits,
    observations: [...observations],
    readings: [...readings],
  };
}

const whereAsked: Record<Side, string> = { outdoor: 'Outdoor unit', indoor: 'Indoor unit' };

const cautionsOfCare: Record<CheckWords['care'], readonly string[]> = {
  look: [],
  power_off: [cautions.lockOut, cautions.storedCharge],
  live: [cautions.liveMeasurement],
  gauges: [cautions.refrigerantPressure],
};

/** Where to note it: with the likeliest suspect whose proof it is part of, else on its side. */
function machineFor(
  { code, side }: RankedCheck,
  likeliest: readonly Weighted[],
  sides: Sides,
): string {
  for (const { suspect } of likeliest) {
    if (suspect.fault === 'something_else' || suspect.side !== side) continue;
    if (faults[suspect.fault].settledBy.includes(code)) return suspect.machine.id;
  }
  const [first] = sides[side];
  if (first === undefined) throw new RangeError(`no machine stands ${side}`);
  return first.id;
}
