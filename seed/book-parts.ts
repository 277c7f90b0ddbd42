import type { z } from 'zod';
import type { bookContentSchema } from '../src/pricebook/index.ts';

type BookPart = NonNullable<z.input<typeof bookContentSchema>['parts']>[number];
type Fit<Category> = Extract<BookPart['fit'], { category: Category }>['specs'];
/** Parts that the maker's list names for a model: no figure decides whether they fit. */
type ListedCategory = Exclude<
  BookPart['fit']['category'],
  | 'run_capacitor'
  | 'dual_run_capacitor'
  | 'contactor'
  | 'control_fuse'
  | 'transformer'
  | 'refrigerant'
  | 'outdoor_unit'
>;

/** A part of every kind that a remedy takes. Costs are invented. */
export const bookParts: BookPart[] = [
  dualCapacitor('CAP-45-5-440', 1_840, { hermUf: 45, fanUf: 5, voltsMax: 440 }),
  dualCapacitor('CAP-35-5-440', 1_590, { hermUf: 35, fanUf: 5, voltsMax: 440 }),
  dualCapacitor('CAP-40-5-440', 1_720, { hermUf: 40, fanUf: 5, voltsMax: 440 }),
  runCapacitor('CAP-40-440', 1_310, { microfarads: 40, voltsMax: 440 }),
  runCapacitor('CAP-45-440', 1_390, { microfarads: 45, voltsMax: 440 }),
  runCapacitor('CAP-5-440', 690, { microfarads: 5, voltsMax: 440 }),
  runCapacitor('CAP-7.5-440', 740, { microfarads: 7.5, voltsMax: 440 }),
  runCapacitor('CAP-10-440', 790, { microfarads: 10, voltsMax: 440 }),
  contactor('CON-2P-30-24', 2_175, { poles: 2, ampsMax: 30, coilVolts: 24 }),
  contactor('CON-2P-40-24', 2_480, { poles: 2, ampsMax: 40, coilVolts: 24 }),
  contactor('CON-1P-30-24', 1_690, { poles: 1, ampsMax: 30, coilVolts: 24 }),
  controlFuse('FUSE-3A', 3),
  controlFuse('FUSE-5A', 5),
  transformer('TRF-40', 1_650, { va: 40, secondaryVolts: 24 }),
  transformer('TRF-75', 2_850, { va: 75, secondaryVolts: 24 }),
  listed('disconnect_fuse', 'DFUSE-35', 'Fuse of a disconnect, 35 A, slow', 620),
  listed('disconnect_fuse', 'DFUSE-25', 'Fuse of a disconnect, 25 A, slow', 590),
  listed('thermostat', 'TSTAT-HC', 'Thermostat, heating and cooling', 6_400, 'unit'),
  listed('thermostat_batteries', 'BAT-2', 'Batteries of a thermostat, a pair', 120),
  listed('indoor_board', 'BRD-IN', 'Control board, indoor unit', 18_900, 'unit'),
  listed('outdoor_board', 'BRD-OUT', 'Control board, outdoor unit', 16_400, 'unit'),
  listed('defrost_board', 'BRD-DEF', 'Defrost board', 14_200, 'unit'),
  listed('sensor', 'SEN-10K', 'Temperature sensor, 10 kΩ', 1_450, 'unit'),
  listed('float_switch', 'FLOAT-1', 'Float switch', 1_150),
  listed('condensate_pump', 'PUMP-1', 'Condensate pump', 6_200),
  listed('drain_pan', 'PAN-30', 'Drain pan', 8_800),
  listed('start_device', 'START-1', 'Start capacitor with its relay', 3_900, 'unit'),
  listed('compressor', 'CMP-36', 'Compressor, 3 tons', 68_500, 'compressor'),
  listed('compressor', 'CMP-48', 'Compressor, 4 tons', 92_000, 'compressor'),
  listed('outdoor_fan_motor', 'MOT-OUT', 'Outdoor fan motor', 12_400, 'unit'),
  listed('blower_motor', 'MOT-BLOW', 'Blower motor', 14_800, 'unit'),
  listed('blower_module', 'MOD-BLOW', 'Control module of a blower', 29_500, 'unit'),
  { ...listed('filter', 'FLT-16-25', 'Filter 16 × 25 × 1', 590), taxClass: 'material' },
  { ...listed('filter', 'FLT-20-25', 'Filter 20 × 25 × 1', 640), taxClass: 'material' },
  listed('filter_drier', 'DRIER-3', 'Filter drier, 3/8', 2_450),
  listed('metering_device', 'TXV-3', 'Expansion valve, 3 tons', 7_900, 'unit'),
  listed('reversing_valve', 'REV-3', 'Reversing valve, 3 tons', 13_800, 'unit'),
  listed('reversing_valve_coil', 'REV-COIL', 'Coil of a reversing valve, 24 V', 2_350, 'unit'),
  outdoorUnit('OUT-454B-30', 189_000, { refrigerant: 'R-454B', tons: 2.5 }),
  outdoorUnit('OUT-454B-36', 215_000, { refrigerant: 'R-454B', tons: 3 }),
  outdoorUnit('OUT-454B-48', 268_000, { refrigerant: 'R-454B', tons: 4 }),
  outdoorUnit('OUT-410A-36', 224_000, { refrigerant: 'R-410A', tons: 3 }),
  refrigerant('R-410A', 31_000, '25'),
  refrigerant('R-22', 96_000, '30'),
  refrigerant('R-454B', 39_000, '20'),
  refrigerant('R-32', 24_000, '20'),
];

function dualCapacitor(
  code: string,
  costCents: number,
  specs: Fit<'dual_run_capacitor'>,
): BookPart {
  const { hermUf, fanUf, voltsMax } = specs;
  const name = `Dual run capacitor ${hermUf}/${fanUf} µF, ${voltsMax} V`;
  const fit = { category: 'dual_run_capacitor' as const, specs };
  return { code, name, costCents, warrantyClass: 'unit', fit };
}

function runCapacitor(code: string, costCents: number, specs: Fit<'run_capacitor'>): BookPart {
  const name = `Run capacitor ${specs.microfarads} µF, ${specs.voltsMax} V`;
  const fit = { category: 'run_capacitor' as const, specs };
  return { code, name, costCents, warrantyClass: 'unit', fit };
}

function contactor(code: string, costCents: number, specs: Fit<'contactor'>): BookPart {
  const { poles, ampsMax, coilVolts } = specs;
  const name = `Contactor, ${poles} ${poles === 1 ? 'pole' : 'poles'}, ${ampsMax} A, ${coilVolts} V coil`;
  const fit = { category: 'contactor' as const, specs };
  return { code, name, costCents, warrantyClass: 'unit', fit };
}

function controlFuse(code: string, amps: number): BookPart {
  const fit = { category: 'control_fuse' as const, specs: { amps } };
  return { code, name: `Control fuse ${amps} A, blade`, costCents: 45, fit };
}

function transformer(code: string, costCents: number, specs: Fit<'transformer'>): BookPart {
  const name = `Control transformer ${specs.va} VA, ${specs.secondaryVolts} V`;
  const fit = { category: 'transformer' as const, specs };
  return { code, name, costCents, warrantyClass: 'unit', fit };
}

function listed(
  category: ListedCategory,
  code: string,
  name: string,
  costCents: number,
  warrantyClass: BookPart['warrantyClass'] = 'none',
): BookPart {
  return { code, name, costCents, warrantyClass, fit: { category, specs: {} } };
}

function outdoorUnit(code: string, costCents: number, specs: Fit<'outdoor_unit'>): BookPart {
  const name = `Outdoor unit ${specs.tons} tons, ${specs.refrigerant}`;
  const fit = { category: 'outdoor_unit' as const, specs };
  return { code, name, costCents, taxClass: 'equipment', fit };
}

/** Bought in cylinders, sold by the pound. */
function refrigerant(name: string, cylinderCents: number, cylinderLb: string): BookPart {
  return {
    code: `REF-${name}`,
    name: `Refrigerant ${name}`,
    costCents: cylinderCents,
    taxClass: 'material',
    measured: { unit: '[lb_av]', packQuantity: cylinderLb },
    fit: { category: 'refrigerant', specs: { refrigerant: name } },
  };
}
