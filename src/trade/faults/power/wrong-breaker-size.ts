import { breakerFit } from '../../electrical/circuit-sizing.ts';
import type { Facts } from '../../facts/admit-evidence.ts';
import { breakerMarking, markedBreakerFit } from '../../facts/breaker-marking.ts';
import type { Measured } from '../../facts/measured.ts';
import type { DrawnMeasurement, Weighed } from '../../verdicts/verdict.ts';
import { type Decision, weighMeasurement } from '../../verdicts/weigh-measurement.ts';
import { fedKinds } from '../../words/kinds.ts';
import { cautions } from '../cautions.ts';
import type { Fault } from '../fault.ts';

/**
 * Never decisive for it: a fuse in the disconnect may be the smaller one that the plate asks for,
 * and a breaker is never a proven cause.
 */
export const wrongBreakerSize = {
  name: 'Breaker of the wrong size',
  explanation:
    'A breaker protects the wires and the equipment behind it and must match the label of the equipment. One that is too large lets wires and motors overheat before it switches off. One that is too small switches off on a hot day though nothing is broken. Changing it is work for a licensed electrician.',
  partOfSystem: 'power',
  role: 'cause',
  kinds: fedKinds,
  dear: false,
  cautions: [
    cautions.panelWork,
    'A breaker above the MOCP of the nameplate is a fire hazard: say so in writing.',
  ],
  exclusions: [],
  remedies: [
    {
      task: 'advise_electrician',
      remedyClass: 'advise',
      needs: 'supported',
      partCategories: [],
    },
  ],
  rules: { criteria: weighBreakerSize },
  settledBy: ['test_breaker_under_load'],
  perThousand: 3,
  expects: {
    breaker_size: { too_small: 0.6, too_large: 0.38 },
    breaker_found_tripped: 0.55,
    breaker_holds_under_load: 0.55,
    breaker_trips_again: 0.3,
    breaker_hot_or_buzzing: 0.1,
    breaker_drop: { high: 0.03 },
    line_volts: { none: 0.5 },
    disconnect_volts: { none: 0.5 },
    outdoor_fan_running: 0.45,
    compressor_running: 0.45,
    outdoor_fan_volts: { none: 0.5 },
    compressor_amps: { none: 0.5, normal: 0.45 },
    outdoor_fan_amps: { none: 0.5, fine: 0.47 },
    contactor_by_hand_both_start: 0.5,
    split: { low: 0.6 },
  },
} as const satisfies Fault;

function weighBreakerSize(facts: Facts): Weighed[] {
  const marking = breakerMarking(facts);
  const { mcaAmps, mocpAmps } = facts.equipment.nameplate;
  return [
    weighMeasurement(
      {
        id: 'above_mocp',
        statement: 'The breaker is larger than the nameplate allows (MOCP).',
        direction: 'for',
        weight: 'indicative',
      },
      marking,
      (measured) => decideLarge(measured, mocpAmps),
    ),
    weighMeasurement(
      {
        id: 'below_mca',
        statement: 'The breaker is smaller than the circuit the nameplate asks for (MCA).',
        direction: 'for',
        weight: 'indicative',
      },
      marking,
      (measured) => decideSmall(measured, mcaAmps),
    ),
    weighMeasurement(
      {
        id: 'fits_plate',
        statement: 'The breaker lies between MCA and MOCP of the nameplate.',
        direction: 'against',
        weight: 'decisive',
      },
      marking,
      (measured) => decideFit(facts, measured),
    ),
  ];
}

function decideLarge({ value }: Measured, mocpAmps: number | undefined): Decision {
  if (mocpAmps === undefined) return plateMissing(value, 'MOCP');
  const isLarge = breakerFit({ breakerAmps: value, mcaAmps: 0, mocpAmps }) === 'too_large';
  return {
    outcome: isLarge ? 'met' : 'not_met',
    detail: `${value} A marked on the breaker; the nameplate allows ${mocpAmps} A at most.`,
    measurement: marked(value, { high: mocpAmps }),
  };
}

function decideSmall({ value }: Measured, mcaAmps: number | undefined): Decision {
  if (mcaAmps === undefined) return plateMissing(value, 'MCA');
  const isSmall = breakerFit({ breakerAmps: value, mcaAmps, mocpAmps: Infinity }) === 'too_small';
  return {
    outcome: isSmall ? 'met' : 'not_met',
    detail: `${value} A marked on the breaker; the nameplate asks for ${mcaAmps} A at least.`,
    measurement: marked(value, { low: mcaAmps }),
  };
}

function decideFit(facts: Facts, { value }: Measured): Decision {
  const { mcaAmps, mocpAmps } = facts.equipment.nameplate;
  const fit = markedBreakerFit(facts);
  if (fit === undefined) return plateMissing(value, 'MCA and MOCP');
  return {
    outcome: fit === 'fits' ? 'met' : 'not_met',
    detail: `${value} A marked on the breaker; ${allowedBy(mcaAmps, mocpAmps)}.`,
    measurement: marked(value, {
      ...(mcaAmps !== undefined && { low: mcaAmps }),
      ...(mocpAmps !== undefined && { high: mocpAmps }),
    }),
  };
}

/** Of one figure alone only that it is broken can be said; both together are a band. */
function allowedBy(mcaAmps: number | undefined, mocpAmps: number | undefined): string {
  const least = mcaAmps === undefined ? [] : [`at least ${mcaAmps} A (MCA)`];
  const most = mocpAmps === undefined ? [] : [`at most ${mocpAmps} A (MOCP)`];
  return `the nameplate asks for ${[...least, ...most].join(' and ')}`;
}

function plateMissing(value: number, what: string): Decision {
  const detail = `${value} A marked on the breaker; record ${what} from the nameplate.`;
  return { outcome: 'undecided', detail };
}

/** A printed figure is exact. */
function marked(value: number, band: { low?: number; high?: number }): DrawnMeasurement {
  return { label: 'Rating marked on the breaker', value, unit: 'A', uncertainty: 0, ...band };
}
