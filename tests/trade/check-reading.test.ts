import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  checkReading,
  type GaugeUnit,
  gaugeUnitSchema,
  methodCodeSchema,
  type PointCode,
  pointCodeSchema,
  printedUnit,
  quantitySchema,
  type Reading,
  type TypedReading,
  takeReading,
  unitOfQuantity,
  unitsOf,
} from '../../src/trade/index.ts';
import { methodAccuracy } from '../../src/trade/words/methods.ts';
import { pointRange } from '../../src/trade/words/points.ts';
import { amps, microfarads, ohms, type Sign, volts } from './make-evidence.ts';

const accepted: [string, Sign][] = [
  ['a capacitor of 45 uF', microfarads('capacitor_herm', 45)],
  ['a dead capacitor', microfarads('capacitor_herm', 0)],
  ['a locked rotor of 112 A', amps('compressor_common', 112)],
  ['line voltage over an open pole', volts('contactor_pole_1', 245)],
  ['a coil of 14 ohm', ohms('contactor_coil', 14)],
  ['120 V at a coil made for them', volts('contactor_coil', 119.6)],
  ['240 V at a coil made for them', volts('contactor_coil', 240)],
];
test.each(accepted)('accepts %s', (_name, sign) => {
  expect(checkReading(readingOf(sign))).toBeUndefined();
});

const refused: [string, Sign, RegExp][] = [
  ['4,500 uF', microfarads('capacitor_herm', 4500), /0 to 150 uF.*45 uF.*decimal point/],
  ['45,000 given in nF', microfarads('capacitor_herm', 45000), /Was it 45000 nF\?/],
  ['630 given in mA', amps('capacitor_fan', 630), /Was it 630 mA\?/],
  ['a negative current', amps('compressor_common', -5), /minus/],
  ['a number that is none', volts('line_supply', Number.NaN), /not a number/],
  ['an endless number', volts('line_supply', Number.POSITIVE_INFINITY), /not a number/],
  ['a capacitance of a switch', microfarads('float_switch_in', 5), /capacitance/],
  [
    'volts by a capacitance meter',
    volts('line_supply', 240, { method: 'capacitance_meter_disconnected' }),
    /cannot measure/,
  ],
  ['volts in amperes', volts('line_supply', 240, { unit: 'A' }), /V, not A/],
];
test.each(refused)('refuses %s and says why', (_name, sign, words) => {
  expect(checkReading(readingOf(sign))?.message).toMatch(words);
});

test('a refusal carries the allowed range as numbers', () => {
  const refusal = checkReading(readingOf(microfarads('capacitor_herm', 4500)));
  expect(refusal).toMatchObject({
    kind: 'out_of_range',
    low: 0,
    high: 150,
    unit: 'uF',
    likely: { value: 45, unit: 'uF' },
  });
});

type Gauge = Pick<TypedReading, 'quantity' | 'point' | 'method'>;
const capacitor: Gauge = {
  quantity: 'capacitance',
  point: 'capacitor_herm',
  method: 'capacitance_meter_disconnected',
};
const suctionLine: Gauge = {
  quantity: 'temperature',
  point: 'suction_line',
  method: 'pipe_clamp_thermometer',
};
const suctionPort: Gauge = {
  quantity: 'gauge_pressure',
  point: 'suction_port',
  method: 'digital_gauge',
};
const liquidPort: Gauge = { ...suctionPort, point: 'liquid_port' };
const controlSupply: Gauge = {
  quantity: 'voltage',
  point: 'control_supply',
  method: 'multimeter',
};
const supplyStatic: Gauge = {
  quantity: 'static_pressure',
  point: 'supply_static',
  method: 'manometer',
};

// Exact by the definitions of the units: NIST SP 811, appendix B.
const kept: [string, Gauge, value: number, unit: GaugeUnit, keptAs: number][] = [
  ['45,000 nF', capacitor, 45_000, 'nF', 45],
  ['21 C', suctionLine, 21, 'Cel', 69.8],
  ['a full vacuum of 14.7 psi', suctionPort, -14.7, '[psi]', -14.7],
  ['0 C at a freezing line', suctionLine, 0, 'Cel', 32],
  ['24,000 mV', controlSupply, 24_000, 'mV', 24],
  ['2 MPa at a service port', liquidPort, 2, 'MPa', 290.07547546041843],
  ['a vacuum typed with its minus', suctionPort, -20, "[in_i'Hg]", -9.823082949406755],
  ['no vacuum at all', suctionPort, 0, "[in_i'Hg]", 0],
];
test.each(kept)('%s is taken and kept exactly', (_name, gauge, value, unit, keptAs) => {
  const { taken } = takeReading({ ...gauge, value, unit });
  expect(taken).toEqual({
    value: keptAs,
    unit: unitOfQuantity[gauge.quantity],
    shownUnit: unit,
  });
});

const slipped: [string, Gauge, value: number, unit: GaugeUnit, message: string][] = [
  [
    'a capacitor of 4,500 uF',
    capacitor,
    4_500,
    'uF',
    '4500 uF is outside 0 to 150 uF (compressor section of the run capacitor). ' +
      'Was it 45 uF, with the decimal point lost?',
  ],
  [
    'a suction line of 700 F',
    suctionLine,
    700,
    '[degF]',
    '700 F is outside -60 to 300 F (suction line at the outdoor unit). ' +
      'Was it 70 F, with the decimal point lost?',
  ],
  [
    'Fahrenheit typed as Celsius',
    suctionLine,
    150,
    'Cel',
    '150 C is outside -51.11 to 148.8 C, which is -60 to 300 F (suction line at the outdoor unit). ' +
      'Was it 15 C, with the decimal point lost or 150 F?',
  ],
  [
    'less than no pressure at all',
    suctionPort,
    -15,
    '[psi]',
    '-15 psi is outside -14.7 to 500 psi (suction service port).',
  ],
  [
    'kPa typed as psi',
    liquidPort,
    2_700,
    '[psi]',
    '2700 psi is outside -14.7 to 800 psi (liquid service port). ' +
      'Was it 270 psi, with the decimal point lost or 2700 kPa?',
  ],
  [
    'psi typed as bar',
    suctionPort,
    118,
    'bar',
    '118 bar is outside -1.013 to 34.47 bar, which is -14.7 to 500 psi (suction service port). ' +
      'Was it 11.8 bar, with the decimal point lost or 118 psi?',
  ],
  [
    'millivolts typed as volts',
    controlSupply,
    24_600,
    'V',
    '24600 V is outside 0 to 40 V (control supply at the board). Was it 24600 mV?',
  ],
  [
    '45,000 mV in a control circuit',
    controlSupply,
    45_000,
    'mV',
    '45000 mV is outside 0 to 40000 mV, which is 0 to 40 V (control supply at the board).',
  ],
  [
    'Pa typed as inches of water',
    supplyStatic,
    70,
    "[in_i'H2O]",
    '70 in. w.c. is outside -0.5 to 4 in. w.c. (static pressure after the blower). ' +
      'Was it 0.7 in. w.c., with the decimal point lost or 70 Pa?',
  ],
  [
    'a vacuum as the gauge shows it',
    suctionPort,
    20,
    "[in_i'Hg]",
    'A vacuum in inHg is typed with a minus: -20 inHg.',
  ],
  [
    'psi typed as inches of mercury',
    suctionPort,
    118,
    "[in_i'Hg]",
    '118 in. Hg is outside -29.92 to 0 in. Hg, which is -14.7 to 0 psi (suction service port). ' +
      'Was it 118 psi?',
  ],
];
test.each(slipped)(
  '%s is refused with the range and the likely slips',
  (_name, gauge, value, unit, message) => {
    expect(takeReading({ ...gauge, value, unit }).refusal?.message).toBe(message);
  },
);

const dangers: [string, Gauge, value: number, unit: GaugeUnit, message: string][] = [
  [
    'a supply of 240 V',
    controlSupply,
    240,
    'V',
    '240 V is outside 0 to 40 V (control supply at the board). ' +
      'If it really is 240 V: stop, line voltage is on the control circuit.',
  ],
  [
    '0.12 kV at the batteries',
    { ...controlSupply, point: 'thermostat_battery' },
    0.12,
    'kV',
    '0.12 kV is outside 0 to 0.012 kV, which is 0 to 12 V (batteries of the thermostat). ' +
      'If it really is 120 V: stop, line voltage is on the control circuit.',
  ],
];
test.each(dangers)(
  'line voltage on the control circuit is warned of and no slip is offered for it: %s',
  (_name, gauge, value, unit, message) => {
    const { refusal } = takeReading({ ...gauge, value, unit });
    expect(refusal).toMatchObject({ kind: 'out_of_range', message, likely: undefined });
  },
);

test('a vacuum without its minus is offered with it, and is then taken', () => {
  const typed = { ...suctionPort, value: 20, unit: 'inHg' };
  const { refusal } = takeReading(typed);
  expect(refusal).toMatchObject({ likely: { value: -20, unit: "[in_i'Hg]" } });
  expect(takeReading({ ...typed, value: -20 }).taken).toBeDefined();
});

const unknown: [string, Gauge, unit: string, message: string][] = [
  [
    'one letter too many',
    capacitor,
    'uFF',
    '"uFF" is no unit known here; capacitance is given in uF, nF or pF. Did you mean uF?',
  ],
  [
    'a thousandth where a millionth is meant',
    capacitor,
    'mF',
    '"mF" is no unit known here; capacitance is given in uF, nF or pF. Did you mean uF?',
  ],
  [
    'nothing like any',
    suctionLine,
    'furlong',
    '"furlong" is no unit known here; temperature is given in F, C or K.',
  ],
  [
    'mega where milli is meant',
    controlSupply,
    'MV',
    '"MV" is no unit known here; voltage is given in V, mV or kV. Did you mean mV?',
  ],
];
test.each(unknown)(
  'a unit nobody knows is refused with those of its quantity alone: %s',
  (_name, gauge, unit, message) => {
    expect(takeReading({ ...gauge, value: 5, unit }).refusal).toEqual({
      kind: 'wrong_unit',
      message,
    });
  },
);

test('what was probably meant is given as it would be typed again, and is then taken', () => {
  const typed = { ...suctionPort, value: 118, unit: 'bar' } as const;
  const { refusal } = takeReading(typed);
  if (refusal?.kind !== 'out_of_range') throw new Error('118 bar was taken');
  expect(refusal).toMatchObject({ low: -14.7, high: 500, unit: '[psi]' });
  expect(refusal.likely).toEqual({ value: 11.8, unit: 'bar' });
  expect(takeReading({ ...typed, ...refusal.likely }).taken).toBeDefined();
});

test.each(quantitySchema.options)(
  'a unit that does not measure %s is refused with all those that do',
  (quantity) => {
    const others = gaugeUnitSchema.options.filter((unit) => !unitsOf(quantity).includes(unit));
    expect(others.length).toBeGreaterThan(20);
    for (const unit of others) {
      const { refusal } = takeReading({ ...capacitor, quantity, value: 5, unit });
      expect(refusal?.kind).toBe('wrong_unit');
      for (const right of unitsOf(quantity)) expect(refusal?.message).toContain(printedUnit[right]);
    }
  },
);

test('a unit of another quantity is refused in words', () => {
  expect(takeReading({ ...capacitor, value: 45, unit: 'V' }).refusal?.message).toBe(
    'V does not measure capacitance; capacitance is given in uF, nF or pF.',
  );
});

test('the range of a refusal in the typed unit is one that is not refused itself', () => {
  const bounds = fc
    .constantFrom(...pointCodeSchema.options)
    .chain((point) =>
      fc
        .constantFrom(
          ...quantitySchema.options.filter((each) => pointRange(point, each) !== undefined),
        )
        .chain((quantity) =>
          fc.constantFrom(...unitsOf(quantity)).map((unit) => ({ point, quantity, unit })),
        ),
    );
  fc.assert(
    fc.property(bounds, ({ point, quantity, unit }) => {
      const method = methodCodeSchema.options.find(
        (each) => methodAccuracy(each, quantity) !== undefined,
      );
      if (method === undefined) throw new Error(`nothing measures ${quantity}`);
      const gauge = { point, quantity, unit, method };
      const { refusal } = takeReading({ ...gauge, value: 1e15 });
      const [, low, high] = /outside (\S+) to (\S+) /.exec(refusal?.message ?? '') ?? [];
      expect(takeReading({ ...gauge, value: Number(low) }).refusal).toBeUndefined();
      expect(takeReading({ ...gauge, value: Number(high) }).refusal).toBeUndefined();
    }),
  );
});

function readingOf(sign: Sign): Reading {
  if (!('reading' in sign)) throw new Error('the sign is no reading');
  return { id: 'r0', ...sign.reading };
}

const points: PointCode[] = ['capacitor_herm', 'capacitor_fan'];
test.each(points)('takes amps, volts and microfarads at %s', (point) => {
  for (const sign of [amps(point, 1), volts(point, 350), microfarads(point, 5)]) {
    expect(checkReading(readingOf(sign))).toBeUndefined();
  }
});
