import type { z } from 'zod';
import type { newPriceBookSchema } from '../src/pricebook/index.ts';

const OUTDOOR = 'outdoor_unit_cabinet';

type Book = z.input<typeof newPriceBookSchema>;

/**
 * What an hour of labor has to carry: 32.00 of wage with what an employer pays on top of it is
 * 81,330.44 a year over 1,152 billable hours; a truck, a share of the overhead, 15 percent margin.
 */
export const rates = {
  wage: {
    hourlyCents: 3_200,
    annualPaidHours: 2_080,
    burden: [
      shareOfWages('Social Security and Medicare', '0.0765', null),
      shareOfWages('Federal unemployment', '0.006', 700_000),
      shareOfWages('State unemployment', '0.027', 900_000),
      shareOfWages('Workers’ compensation', '0.06', null),
      { kind: 'yearly_amount', name: 'Health insurance', annualCents: 540_000 },
    ],
  },
  annualAvailableHours: 1_920,
  billableFraction: '0.6',
  annualTruckCents: 1_400_000,
  annualOverheadCents: 21_000_000,
  technicianCount: 4,
  margin: '0.15',
} satisfies Book['rates'];

/** An invented price book. */
export const priceBook: Book = {
  effectiveFrom: '2020-01-01T00:00:00Z',
  rates,
  tiers: {
    mode: 'progressive',
    steps: [
      { upToCents: 2_500, factor: '3' },
      { upToCents: 10_000, factor: '2.2' },
      { upToCents: 40_000, factor: '1.7' },
      { upToCents: null, factor: '1.4' },
    ],
  },
  policy: {
    secondTaskDiscount: '0.2',
    visitFeeCreditShare: '0.5',
    fairBandTolerance: '0.05',
    causeSearchMinutes: 20,
    quoteValidityDays: 30,
  },
  periods: [
    {
      code: 'regular',
      visitFeeCents: 8_900,
      laborFactor: '1',
      hours: { weekdays: [1, 2, 3, 4, 5, 6], from: '08:00', to: '18:00' },
    },
    { code: 'after_hours', visitFeeCents: 12_900, laborFactor: '1.5', hours: null },
  ],
  tasks: [
    task('replace_dual_run_capacitor', 'Replace the dual run capacitor', 30, OUTDOOR, 10),
    task('replace_compressor_run_capacitor', 'Replace the compressor capacitor', 30, OUTDOOR, 10),
    task('replace_fan_run_capacitor', 'Replace the fan capacitor', 30, OUTDOOR, 10),
    task('replace_contactor', 'Replace the contactor', 35, OUTDOOR, 10),
    task('reset_breaker', 'Reset the breaker', 5, 'electrical_panel', 0),
    task('trace_breaker_trip', 'Trace why the breaker trips', 45, OUTDOOR, 10),
    task('replace_control_fuse', 'Replace the control fuse', 10, 'indoor_unit_cabinet', 10),
    task('trace_control_short', 'Trace the short in the control circuit', 60, OUTDOOR, 10),
    task('reset_float_switch', 'Reset the float switch', 5, 'indoor_unit_cabinet', 10),
    task('clear_condensate_drain', 'Clear the condensate drain', 30, 'indoor_unit_cabinet', 10),
  ],
  parts: [
    dualCapacitor('CAP-45-5-440', 'Dual run capacitor 45/5 µF, 440 V', 1_840, 45, 5),
    dualCapacitor('CAP-35-5-440', 'Dual run capacitor 35/5 µF, 440 V', 1_590, 35, 5),
    {
      code: 'CAP-40-440',
      name: 'Run capacitor 40 µF, 440 V',
      costCents: 1_310,
      warrantyClass: 'unit',
      fit: { category: 'run_capacitor', specs: { microfarads: 40, voltsMax: 440 } },
    },
    {
      code: 'CAP-5-440',
      name: 'Run capacitor 5 µF, 440 V',
      costCents: 690,
      warrantyClass: 'unit',
      fit: { category: 'run_capacitor', specs: { microfarads: 5, voltsMax: 440 } },
    },
    {
      code: 'CON-2P-30-24',
      name: 'Contactor, 2 poles, 30 A, 24 V coil',
      costCents: 2_175,
      warrantyClass: 'unit',
      fit: { category: 'contactor', specs: { poles: 2, ampsMax: 30, coilVolts: 24 } },
    },
    {
      code: 'FUSE-3A',
      name: 'Control fuse 3 A, blade',
      costCents: 45,
      fit: { category: 'control_fuse', specs: { amps: 3 } },
    },
    {
      code: 'FUSE-5A',
      name: 'Control fuse 5 A, blade',
      costCents: 45,
      fit: { category: 'control_fuse', specs: { amps: 5 } },
    },
  ],
};

function shareOfWages(name: string, share: string, onWagesUpToCents: number | null) {
  return { kind: 'share_of_wages' as const, name, share, onWagesUpToCents };
}

function task(
  code: Book['tasks'][number]['code'],
  name: string,
  minutes: number,
  accessGroup: string,
  accessMinutes: number,
) {
  return { code, name, minutes, accessGroup, accessMinutes };
}

function dualCapacitor(
  code: string,
  name: string,
  costCents: number,
  hermUf: number,
  fanUf: number,
) {
  return {
    code,
    name,
    costCents,
    warrantyClass: 'unit' as const,
    fit: { category: 'dual_run_capacitor' as const, specs: { hermUf, fanUf, voltsMax: 440 } },
  };
}
