import type { z } from 'zod';
import type { Role } from '../src/platform/access/actor.ts';
import type { newTaxRuleSchema } from '../src/pricebook/index.ts';

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
