import type { z } from 'zod';
import type { Role } from '../src/platform/access/actor.ts';
import type { newTaxRuleSchema } from '../src/pricebook/index.ts';
import type { Skill } from '../src/technicians/index.ts';

/** An invented company in an invented town. */
export const company = {
  name: 'Sparrowgate Home Comfort',
  street: '14 Millrace Lane',
  city: 'Wrenfield',
  region: 'QX',
  postalCode: '00000',
  phone: '555-0100',
  email: 'office@sparrowgate.example.com',
  licenseNumber: 'INVENTED-0417',
  regulator: 'Quill County Board of Mechanical Trades (invented), 555-0199',
  timeZone: 'America/Chicago',
  defaultJurisdiction: 'quill_county',
} as const;

/** Who works there. */
export const staff: readonly {
  key: 'owner' | 'dispatcher' | 'technician' | 'second_technician';
  name: string;
  role: Role;
  phone: string;
  epa608Type?: string;
  epa608Number?: string;
}[] = [
  { key: 'owner', name: 'Odalys Fernsby', role: 'owner', phone: '555-0101' },
  { key: 'dispatcher', name: 'Desmond Quillon', role: 'dispatcher', phone: '555-0102' },
  {
    key: 'technician',
    name: 'Tamsin Roake',
    role: 'technician',
    phone: '555-0103',
    epa608Type: 'universal',
    epa608Number: 'INVENTED-608-1',
  },
  {
    key: 'second_technician',
    name: 'Bram Ostrander',
    role: 'technician',
    phone: '555-0104',
    epa608Type: 'type_2',
    epa608Number: 'INVENTED-608-2',
  },
];

export type StaffKey = (typeof staff)[number]['key'];

/** Where the trucks stand, on a map of which only distances are true. */
export const depot = { latitudeDeg: 41, longitudeDeg: -97 } as const;

const earlyDays = [1, 2, 3, 4, 5].map((weekday) => {
  return { weekday, startMinute: 7 * 60 + 30, endMinute: 16 * 60 };
});

/** Who drives out: from where, to work on what, and when. */
export const crews: readonly {
  key: StaffKey;
  /** At home; the depot when absent. */
  base?: { latitudeDeg: number; longitudeDeg: number };
  skills: readonly Skill[];
  hours: readonly { weekday: number; startMinute: number; endMinute: number }[];
}[] = [
  {
    key: 'technician',
    skills: ['cooling', 'heat_pump', 'gas_heat', 'electric_heat', 'controls'],
    hours: earlyDays,
  },
  {
    key: 'second_technician',
    base: { latitudeDeg: 41.06, longitudeDeg: -96.9 },
    skills: ['cooling', 'ductless', 'controls'],
    hours: [
      ...earlyDays.map((each) => ({ ...each, startMinute: 9 * 60, endMinute: 18 * 60 })),
      { weekday: 6, startMinute: 8 * 60, endMinute: 12 * 60 },
    ],
  },
];

/** Invented: all goods are taxed, labor and the fee are not; rounded once per document. */
export const taxRule: z.input<typeof newTaxRuleSchema> = {
  jurisdiction: 'quill_county',
  name: 'Sales tax',
  rate: '0.0825',
  taxableClasses: ['part', 'material', 'equipment'],
  mode: 'separated',
  basis: 'invoice',
  effectiveFrom: '2020-01-01',
};
