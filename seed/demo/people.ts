/** Invented callers of one hot afternoon, with their invented homes. */
export const callers = {
  phone: {
    name: 'Ludovic Penhallow',
    phone: '555-0121',
    street: '8 Weaver Row',
    complaint: 'No cooling since we came back from the lake. The outdoor box is quiet.',
  },
  breaker: {
    name: 'Henrike Osterley',
    phone: '555-0122',
    email: 'osterley@example.com',
    street: '41 Tannery Street',
    complaint: 'Nothing runs outside. A storm went through last night.',
  },
  drain: {
    name: 'Cosima Threlkeld',
    phone: '555-0123',
    email: 'threlkeld@example.com',
    language: 'es',
    street: '19 Orchard Steps',
    complaint: 'El ventilador sopla pero no enfría, y hay agua junto al calefactor.',
  },
  capacitor: {
    name: 'Barnaby Quenell',
    phone: '555-0124',
    email: 'quenell@example.com',
    street: '2 Saltmarsh Close',
    complaint: 'The fan outside turns but the air is warm. It hums.',
  },
  charge: {
    name: 'Evander Pickersgill',
    phone: '555-0126',
    street: '5 Millrace Lane',
    complaint: 'It cools less every week, and it runs all day.',
  },
  waiting: {
    name: 'Perpetua Lindquill',
    phone: '555-0127',
    street: '12 Cooper Yard',
    complaint: 'Warm air since noon. I rent; the owner of the house has to say yes.',
    landlord: {
      name: 'Leopold Castellane',
      phone: '555-0128',
      email: 'castellane@example.com',
    },
  },
  declined: {
    name: 'Ottoline Marchbanks',
    phone: '555-0125',
    email: 'marchbanks@example.com',
    street: '77 Lantern Hill',
    complaint: 'It stopped this morning. Another company wants to sell me a new unit.',
  },
} as const satisfies Record<string, Caller>;

export interface Caller extends Reachable {
  street: string;
  complaint: string;
  /** Who owns the place, says yes and pays, where the caller rents it. */
  landlord?: Reachable;
}

interface Reachable {
  name: string;
  phone: string;
  /** Papers go there by themselves. */
  email?: string;
  language?: 'en' | 'es';
}

/** The nameplate of every outdoor unit in these stories. */
export const outdoorUnit = {
  kind: 'condensing_unit',
  maker: 'Invented Works',
  model: 'IW-036',
  nameplate: {
    phase: 1,
    supplyVoltsMin: 187,
    supplyVoltsMax: 253,
    compressorRlaAmps: 17.9,
    compressorLraAmps: 112,
    fanFlaAmps: 1.1,
    capacitorHermUf: 45,
    capacitorFanUf: 5,
    capacitorVolts: 440,
    capacitorTolerancePercent: 6,
    contactorPoles: 2,
    mcaAmps: 23.5,
    mocpAmps: 40,
    refrigerant: 'R-410A',
    meteringDevice: 'txv',
    targetSubcoolingDegF: 10,
    factoryChargeOz: 104,
    lineSetIncludedFt: 15,
    lineSetOzPerFt: 0.6,
    compressorMotor: 'psc',
    fanMotor: 'psc',
    stages: 1,
    tons: 3,
  },
} as const;

export const airHandler = {
  kind: 'air_handler',
  maker: 'Invented Works',
  model: 'IW-AH3',
  nameplate: { fanMotor: 'ecm', controlFuseAmps: 3 },
} as const;
