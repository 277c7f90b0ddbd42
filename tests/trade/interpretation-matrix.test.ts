import { describe, expect, test } from 'vitest';
import { admitEvidence } from '../../src/trade/facts/admit-evidence.ts';
import {
  assessSystem,
  commonPriors,
  currentEvidenceRuleset,
  type Evidence,
  evidenceRulesets,
  type FaultCode,
  type Machine,
  type Nameplate,
} from '../../src/trade/index.ts';
import { readSign } from '../../src/trade/signs/read-sign.ts';
import { type Circuit, circuitPlate, circuitReadings } from './circuit-readings.ts';
import { amps, condenserNameplate, outdoorUnit, type Sign, saw } from './make-evidence.ts';

/**
 * What a published list of nine scenarios and a manufacturer's chart say each cause shows: suction,
 * head, superheat, subcooling and air split, l low, n normal, h high. The filter drier is added:
 * without it nothing keeps a restricted line apart from a restricted valve.
 */
type Scenario = {
  shows: string;
  circuit: Partial<Circuit>;
  amps: number;
  alsoSeen: readonly Sign[];
  /** The right cause; several where the pattern fits them all alike. */
  causes: readonly FaultCode[];
  proven: readonly FaultCode[];
  supported: readonly FaultCode[];
};

const filterClean = saw('filter_dirty', 'no');

const scenarios: Record<string, Scenario> = {
  undercharge: {
    shows: 'l l h l l',
    circuit: {
      evaporatingDegF: 30,
      condensingDegF: 106,
      superheatDegF: 32,
      subcoolingDegF: 2,
      splitDegF: 12,
    },
    amps: 11,
    alsoSeen: [filterClean],
    causes: ['low_charge'],
    proven: ['low_charge'],
    supported: ['refrigerant_leak'],
  },
  overcharge: {
    shows: 'h h l h n',
    circuit: {
      evaporatingDegF: 48,
      condensingDegF: 120,
      superheatDegF: 1.5,
      subcoolingDegF: 22,
      splitDegF: 19,
    },
    amps: 17,
    alsoSeen: [filterClean],
    causes: ['overcharge'],
    proven: [],
    supported: ['overcharge'],
  },
  'low indoor airflow': {
    shows: 'l l-n l n-h h',
    circuit: {
      evaporatingDegF: 28,
      condensingDegF: 110,
      superheatDegF: 2,
      subcoolingDegF: 13,
      splitDegF: 27,
    },
    amps: 14,
    alsoSeen: [],
    causes: [
      'dirty_filter',
      'dirty_indoor_coil',
      'dirty_blower_wheel',
      'closed_registers',
      'restricted_ducts',
    ],
    proven: [],
    supported: [],
  },
  'dirty condenser, mild': {
    shows: 'h h l l n',
    circuit: {
      evaporatingDegF: 47.5,
      condensingDegF: 121,
      superheatDegF: 2,
      subcoolingDegF: 3,
      splitDegF: 19,
    },
    amps: 16,
    alsoSeen: [filterClean],
    causes: ['dirty_outdoor_coil'],
    proven: [],
    supported: ['dirty_outdoor_coil'],
  },
  'dirty condenser, severe': {
    shows: 'h h h l l',
    circuit: {
      evaporatingDegF: 50,
      condensingDegF: 135,
      superheatDegF: 28,
      subcoolingDegF: 2,
      splitDegF: 8,
    },
    amps: 17,
    alsoSeen: [filterClean],
    causes: ['dirty_outdoor_coil'],
    proven: [],
    supported: ['dirty_outdoor_coil'],
  },
  'liquid line restriction, right charge': {
    shows: 'l n-l h n-h l',
    circuit: {
      evaporatingDegF: 26,
      condensingDegF: 110,
      superheatDegF: 34,
      subcoolingDegF: 13,
      splitDegF: 10,
      drierDropDegF: 9,
    },
    amps: 11,
    alsoSeen: [filterClean],
    causes: ['liquid_line_restriction'],
    proven: ['liquid_line_restriction'],
    supported: ['failed_metering_device'],
  },
  'liquid line restriction, refrigerant added': {
    shows: 'n-l h n-h h n-l',
    circuit: {
      evaporatingDegF: 34,
      condensingDegF: 122,
      superheatDegF: 22,
      subcoolingDegF: 22,
      splitDegF: 14,
      drierDropDegF: 9,
    },
    amps: 14,
    alsoSeen: [filterClean],
    causes: ['liquid_line_restriction'],
    proven: ['liquid_line_restriction'],
    supported: [],
  },
  'weak compressor': {
    shows: 'h l l h l',
    circuit: {
      evaporatingDegF: 58,
      condensingDegF: 103,
      superheatDegF: 1,
      subcoolingDegF: 16,
      splitDegF: 6,
    },
    amps: 9,
    alsoSeen: [filterClean],
    causes: ['compressor_weak_valves'],
    proven: [],
    supported: ['compressor_weak_valves'],
  },
};

// At 76 F and 67 F wet bulb the target split is 16.1 F, at 63 F wet bulb 19.2 F.
const systems: {
  name: string;
  plate: Partial<Nameplate>;
  change: (at: Partial<Circuit>) => object;
}[] = [
  { name: 'R-410A with a valve', plate: circuitPlate, change: () => ({}) },
  {
    name: 'R-22 with a fixed orifice',
    plate: {
      ...circuitPlate,
      refrigerant: 'R-22',
      meteringDevice: 'fixed_orifice',
      targetSubcoolingDegF: undefined,
    },
    change: ({ splitDegF = 0 }) => ({
      refrigerant: 'R-22',
      wetBulbDegF: 67,
      splitDegF: splitDegF - 3.1,
    }),
  },
  {
    name: 'R-407C with a valve, at 5,000 ft',
    plate: { ...circuitPlate, refrigerant: 'R-407C' },
    change: () => ({ refrigerant: 'R-407C', altitudeFt: 5_000 }),
  },
];

const airHandler: Machine = { id: 'unit-2', kind: 'air_handler', nameplate: {} };

describe.each(systems)('$name', ({ plate, change }) => {
  test.each(Object.entries(scenarios))(
    '%s ranks first, and nothing else is proven',
    (_name, scenario) => {
      const evidence = evidenceOf(scenario, plate, change(scenario.circuit));
      const { suspects } = assessSystem(
        {
          machines: [evidence.equipment, airHandler],
          altitudeFt: evidence.altitudeFt,
          readings: evidence.readings,
          observations: evidence.observations,
        },
        commonPriors,
      ).advice;
      expect(scenario.causes).toContain(suspects[0]?.faultCode);
      const proven = standing(evidence, 'proven');
      expect(proven.filter((code) => !scenario.causes.includes(code))).toEqual([]);
    },
  );
});

test.each(Object.entries(scenarios))(
  'a valve system showing %s is weighed so',
  (_name, scenario) => {
    const evidence = evidenceOf(scenario, circuitPlate, {});
    expect(standing(evidence, 'proven')).toEqual(scenario.proven);
    expect(standing(evidence, 'supported')).toEqual(scenario.supported);
  },
);

const letters = { low: 'l', fine: 'n', high: 'h' } as const;

test.each(Object.entries(scenarios))('the readings show %s as published', (_name, scenario) => {
  const facts = admitEvidence(evidenceOf(scenario, circuitPlate, {}));
  const signs = ['suction', 'head', 'superheat', 'subcooling', 'split'] as const;
  const published = scenario.shows.split(' ').map((each) => each.split('-'));
  signs.forEach((sign, index) => {
    const allowed = published[index] ?? [];
    const shown = readSign(sign, facts);
    const letter = shown === 'low' || shown === 'fine' || shown === 'high' ? letters[shown] : '';
    // Where two classes are published a figure may lie between them, too near to tell.
    expect(allowed.length > 1 ? [...allowed, ''] : allowed, sign).toContain(letter);
  });
});

test('a system in order shows no fault of its circuit', () => {
  const sound = { circuit: {}, amps: 15, alsoSeen: [filterClean] };
  const evidence = evidenceOf(sound, circuitPlate, {});
  expect(standing(evidence, 'proven')).toEqual([]);
  expect(standing(evidence, 'supported')).toEqual([]);
});

function evidenceOf(
  { circuit, amps: drawn, alsoSeen }: Pick<Scenario, 'circuit' | 'amps' | 'alsoSeen'>,
  plate: Partial<Nameplate>,
  change: Partial<Circuit>,
): Evidence & { altitudeFt: number } {
  const signs = [
    ...circuitReadings({ ...circuit, ...change }),
    amps('compressor_common', drawn),
    saw('thermostat_calling_cooling'),
    saw('indoor_fan_running'),
    saw('outdoor_fan_running'),
    saw('compressor_running'),
    ...alsoSeen,
  ];
  const evidence = outdoorUnit(signs, { ...condenserNameplate, ...plate });
  return { ...evidence, system: [airHandler], altitudeFt: change.altitudeFt ?? 0 };
}

/** The faults that stand so on any machine of the system, each once. */
function standing(evidence: Evidence, wanted: string): FaultCode[] {
  const indoors = { ...evidence, equipment: airHandler, system: [evidence.equipment] };
  const { assess } = evidenceRulesets[currentEvidenceRuleset];
  const found = [...assess(evidence), ...assess(indoors)].filter(
    (each) => each.standing === wanted,
  );
  return [...new Set(found.map((each) => each.faultCode))];
}
