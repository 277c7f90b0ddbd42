import type {
  PaperFinding,
  PaperLineGroup,
  PaperOption,
  PaperPricedLine,
  QuotePaper,
} from '../../src/documents/index.ts';

/** Invented papers, one for each way a quote can look. Amounts are hand-made and add up. */

const company = {
  name: 'Cedar Street Comfort',
  address: { street: '120 Example Street', city: 'Sampleton', region: 'TX', postalCode: '75000' },
  phone: '(555) 555-0140',
  email: 'service@example.com',
  licenseNumber: 'TACLA-EXAMPLE-0001',
  regulatorLine:
    'Regulated by the state licensing department, regulator.example.com, (555) 555-0199',
};

const cautions = [
  'Local codes and licensed practice rule wherever this paper and they differ.',
  'Do not open the panels of the equipment: parts inside hold a charge even with the power off.',
  'If you smell burning or see smoke, switch the breaker off and call the fire department.',
];

const legalTexts = [
  {
    title: 'Right to cancel',
    text: 'You may cancel this agreement by written notice within three business days of signing where the law of your state gives you that right. (Sample text, to be confirmed by counsel.)',
  },
  {
    title: 'Warranty on our labor',
    text: 'If the same fault comes back in the same system within the labor warranty, we come and mend it at no charge for labor.\nParts carry the warranty of their manufacturer.',
  },
];

const base = {
  language: 'en',
  company,
  revision: 1,
  issuedAt: '2026-07-14T20:41:07Z',
  issuedText: 'July 14, 2026',
  validUntilText: 'July 28, 2026, midnight',
  contentHash: '3f2a91bc07d5e8846a1f0c9be27d435590ab6cde11f4873305be9a72c8d4e610',
  customer: { name: 'Marisol Quintero-Hale' },
  site: {
    occupant: 'Marisol Quintero-Hale',
    address: { street: '48 Sample Lane', city: 'Sampleton', region: 'TX', postalCode: '75001' },
  },
  systems: [
    {
      name: 'Outdoor unit, split system',
      model: 'Model EX-36A, serial 0000-1234',
      nameplate: [
        { label: 'Run capacitor', text: '45/5 µF, 440 V' },
        { label: 'Compressor', text: '14.1 A RLA, 77 A LRA' },
        { label: 'Fan', text: '0.9 A FLA' },
        { label: 'Breaker', text: '30 A max' },
        { label: 'Cooling', text: '3 tons' },
      ],
    },
  ],
  cautions,
  legalTexts,
} as const satisfies Partial<QuotePaper>;

const decline = {
  amounts: [
    { label: 'Visit fee, daytime', amountCents: 8_900 },
    { label: 'Sales tax 8.25 %', amountCents: 734 },
  ],
  totalCents: 9_634,
};

const failedCapacitor: PaperFinding = {
  name: 'The run capacitor has failed',
  explanation:
    'The capacitor gives the compressor and the fan the push they need to start and run. The compressor side of yours has lost almost a third of its strength, so the compressor hums and does not start.',
  standing: 'proven',
  doubts: [],
  measurements: [
    {
      label: 'Capacitor, compressor side',
      value: 31.2,
      unit: 'µF',
      decimals: 1,
      low: 40.5,
      high: 47.7,
      uncertainty: 0.9,
      verdict: 'outside',
      limitText: 'Nameplate 45 µF; failed when more than 10 % below',
    },
    {
      label: 'Capacitor, fan side',
      value: 4.9,
      unit: 'µF',
      decimals: 1,
      low: 4.5,
      high: 5.3,
      uncertainty: 0.2,
      verdict: 'within',
      limitText: 'Nameplate 5 µF',
    },
  ],
  observations: ['The outdoor fan runs; the compressor hums and does not start.'],
  cautions: [],
};

const wornContactor: PaperFinding = {
  name: 'The contactor is worn',
  explanation:
    'The contactor is the switch that feeds power to the outdoor unit. Its contacts are pitted and drop voltage when they carry current, which heats them further.',
  standing: 'supported',
  doubts: ['The voltage drop was measured once; it was near the limit.'],
  measurements: [
    {
      label: 'Voltage lost across the contacts',
      value: 0.62,
      unit: 'V',
      decimals: 2,
      high: 0.5,
      uncertainty: 0.14,
      verdict: 'undecided',
      limitText: 'At most 0.50 V under load',
    },
  ],
  observations: ['Contacts pitted and burned on both poles, photo taken.'],
  cautions: ['A contactor that welds shut keeps the outdoor unit running when it should be off.'],
};

const visitGroup: PaperLineGroup<PaperPricedLine> = {
  heading: 'The visit',
  lines: [
    {
      description: 'Visit fee, daytime',
      detail: 'Disclosed at the call; includes looking for the cause',
      quantityText: '1',
      unitPriceCents: 8_900,
      amountCents: 8_900,
    },
  ],
};

const capacitorGroup: PaperLineGroup<PaperPricedLine> = {
  heading: 'The run capacitor has failed',
  lines: [
    {
      description: 'Replace the dual run capacitor',
      quantityText: '0.50 h',
      unitPriceCents: 15_100,
      amountCents: 7_550,
    },
    {
      description: 'Dual run capacitor 45/5 µF, 440 V',
      quantityText: '1',
      unitPriceCents: 6_318,
      amountCents: 6_318,
    },
  ],
};

const contactorGroup: PaperLineGroup<PaperPricedLine> = {
  heading: 'The contactor is worn',
  lines: [
    {
      description: 'Replace the contactor',
      quantityText: '0.75 h',
      unitPriceCents: 15_100,
      amountCents: 11_325,
    },
    {
      description: 'Contactor, two-pole, 40 A, 24 V coil',
      quantityText: '1',
      unitPriceCents: 7_840,
      amountCents: 7_840,
    },
  ],
};

const bothRepaired: PaperOption = {
  letter: 'A',
  title: 'Replace the capacitor and the contactor',
  prices: {
    kind: 'separated',
    groups: [
      visitGroup,
      capacitorGroup,
      contactorGroup,
      {
        heading: 'Access',
        lines: [
          {
            description: 'Open and close the electrical compartment of the outdoor unit',
            detail: 'Charged once for both repairs',
            quantityText: '0.25 h',
            unitPriceCents: 15_100,
            amountCents: 3_775,
          },
        ],
      },
      {
        heading: 'Discounts and credits',
        lines: [
          {
            description: 'Second task on the same visit',
            detail: '20 % off the labor to replace the capacitor',
            amountCents: -1_510,
          },
          { description: 'Visit fee credited when you accept', amountCents: -8_900 },
        ],
      },
    ],
    subtotalCents: 35_298,
  },
  taxes: [{ label: 'Sales tax 8.25 %', amountCents: 2_912 }],
  totalCents: 38_210,
};

/** A failed capacitor found with a worn contactor: the common hot afternoon. */
export const capacitorAndContactor: QuotePaper = {
  ...base,
  quoteNumber: 'Q-10042',
  summary:
    'The outdoor unit does not cool because its run capacitor has failed. The switch beside it, the contactor, is worn and should be replaced on the same visit.',
  findings: [failedCapacitor, wornContactor],
  options: [bothRepaired],
  decline,
};

/** A breaker switched back on: the visit fee and nothing else. */
export const breakerReset: QuotePaper = {
  ...base,
  quoteNumber: 'Q-10043',
  summary:
    'The breaker of the outdoor unit had tripped. We looked for the cause, found none, and switched it back on. The system cools again.',
  findings: [
    {
      name: 'The breaker had tripped',
      explanation:
        'A breaker is a safety switch. It was found tripped, was reset once and has held. A tripped breaker is a sign, never itself the cause.',
      standing: 'proven',
      doubts: ['Why it tripped is not known. If it trips again, leave it off and call us.'],
      measurements: [
        {
          label: 'Compressor current, running',
          value: 12.8,
          unit: 'A',
          decimals: 1,
          high: 14.1,
          uncertainty: 0.3,
          verdict: 'within',
          limitText: 'At most the nameplate 14.1 A',
        },
        {
          label: 'Supply voltage',
          value: 238,
          unit: 'V',
          decimals: 0,
          low: 208,
          high: 253,
          uncertainty: 2,
          verdict: 'within',
          limitText: 'Nameplate range 208 to 253 V',
        },
      ],
      observations: ['No burned wire, no loose lug, no water in the disconnect.'],
      cautions: [],
    },
  ],
  options: [
    {
      letter: 'A',
      title: 'Breaker reset and checked',
      prices: {
        kind: 'separated',
        groups: [
          visitGroup,
          {
            heading: 'The breaker had tripped',
            lines: [
              {
                description: 'Reset the breaker - no charge for labor',
                detail: 'The look for its cause is within the visit fee',
                amountCents: 0,
              },
            ],
          },
        ],
        subtotalCents: 8_900,
      },
      taxes: [],
      totalCents: 8_900,
    },
  ],
  decline: { amounts: [{ label: 'Visit fee, daytime', amountCents: 8_900 }], totalCents: 8_900 },
};

/** A plugged drain that opened its float switch: the drain is work, the switch is a reset. */
export const pluggedDrain: QuotePaper = {
  ...base,
  quoteNumber: 'Q-10044',
  summary:
    'The drain of the indoor unit is plugged, and a float switch stopped the cooling before the pan ran over. Clearing the drain brings the cooling back.',
  customer: {
    name: 'Sample Property Management',
    address: {
      street: '9 Placeholder Plaza',
      city: 'Sampleton',
      region: 'TX',
      postalCode: '75002',
    },
  },
  systems: [
    ...base.systems,
    {
      name: 'Indoor unit, attic',
      model: 'Model EX-36H',
      nameplate: [{ label: 'Blower', text: '4.1 A FLA' }],
    },
  ],
  findings: [
    {
      name: 'The condensate drain is plugged',
      explanation:
        'The water that cooling takes out of the air leaves through a drain. Yours is blocked, so the pan filled up.',
      standing: 'proven',
      doubts: [],
      measurements: [],
      observations: [
        'The pan is full to the rim.',
        'The float switch is open.',
        'No water reached the ceiling.',
      ],
      cautions: ['A pan that runs over can bring the ceiling down.'],
    },
  ],
  options: [
    {
      letter: 'A',
      title: 'Clear the drain and restore the float switch',
      prices: {
        kind: 'separated',
        groups: [
          visitGroup,
          {
            heading: 'The condensate drain is plugged',
            lines: [
              {
                description: 'Clear and flush the drain',
                quantityText: '0.75 h',
                unitPriceCents: 15_100,
                amountCents: 11_325,
              },
              {
                description: 'Restore the float switch - no charge for labor',
                amountCents: 0,
              },
              {
                description: 'Drain treatment tablets',
                quantityText: '2',
                unitPriceCents: 425,
                amountCents: 850,
              },
            ],
          },
          {
            heading: 'Discounts and credits',
            lines: [{ description: 'Visit fee credited when you accept', amountCents: -8_900 }],
          },
        ],
        subtotalCents: 12_175,
      },
      taxes: [{ label: 'Sales tax 8.25 %', amountCents: 1_004 }],
      totalCents: 13_179,
    },
  ],
  decline,
};

/** Three ways to go on, from the least to the most. */
export const threeOptions: QuotePaper = {
  ...capacitorAndContactor,
  quoteNumber: 'Q-10045',
  revision: 2,
  options: [
    bothRepaired,
    {
      letter: 'B',
      title: 'Replace the capacitor only',
      explanation:
        'Brings the cooling back. The contactor stays as it is and may fail this summer.',
      prices: {
        kind: 'separated',
        groups: [
          visitGroup,
          capacitorGroup,
          {
            heading: 'Discounts and credits',
            lines: [{ description: 'Visit fee credited when you accept', amountCents: -8_900 }],
          },
        ],
        subtotalCents: 13_868,
      },
      taxes: [{ label: 'Sales tax 8.25 %', amountCents: 1_144 }],
      totalCents: 15_012,
    },
    {
      letter: 'C',
      title: 'Both repairs and a full cleaning of the outdoor coil',
      explanation: 'The coil is dirty; a clean one lets the compressor run cooler.',
      prices: {
        kind: 'separated',
        groups: [
          visitGroup,
          capacitorGroup,
          contactorGroup,
          {
            heading: 'Cleaning',
            lines: [
              {
                description: 'Clean the outdoor coil with water and detergent',
                quantityText: '1.50 h',
                unitPriceCents: 15_100,
                amountCents: 22_650,
              },
            ],
          },
        ],
        subtotalCents: 64_583,
      },
      taxes: [{ label: 'Sales tax 8.25 %', amountCents: 5_328 }],
      totalCents: 69_911,
    },
  ],
};

/** A lump-sum contract: parts and minutes are named, one price is given. */
export const lumpSum: QuotePaper = {
  ...capacitorAndContactor,
  quoteNumber: 'Q-10046',
  options: [
    {
      letter: 'A',
      title: 'Replace the capacitor and the contactor',
      prices: {
        kind: 'lump_sum',
        groups: [
          {
            heading: 'The run capacitor has failed',
            lines: [
              { description: 'Replace the dual run capacitor', quantityText: '30 min' },
              { description: 'Dual run capacitor 45/5 µF, 440 V', quantityText: '1' },
            ],
          },
          {
            heading: 'The contactor is worn',
            lines: [
              { description: 'Replace the contactor', quantityText: '45 min' },
              { description: 'Contactor, two-pole, 40 A, 24 V coil', quantityText: '1' },
            ],
          },
        ],
        priceCents: 38_210,
      },
      taxes: [],
      totalCents: 38_210,
    },
  ],
};

/** Refrigerant by the pound for a customer with a maintenance agreement. */
export const weighedGoods: QuotePaper = {
  ...capacitorAndContactor,
  quoteNumber: 'Q-10048',
  options: [
    {
      letter: 'A',
      title: 'Add what is missing',
      explanation:
        'Parts, materials and equipment are $81.38 of $321.35, more than 10%, so prices and tax are stated separately.',
      prices: {
        kind: 'separated',
        groups: [
          {
            heading: 'The visit',
            lines: [{ description: 'Visit fee', amountCents: 8_900 }],
          },
          {
            heading: 'Add refrigerant by weight and readings',
            lines: [
              {
                description: 'Refrigerant R-410A',
                quantityText: '2.25 lb',
                detail: '2.25 lb for $81.38.',
                amountCents: 8_138,
              },
              { description: 'Labor: Add refrigerant', amountCents: 11_323 },
            ],
          },
          {
            heading: 'Discounts and credits',
            lines: [
              { description: 'Two visits a year: Visit fee', amountCents: -2_225 },
              { description: 'Two visits a year: Refrigerant R-410A', amountCents: -814 },
            ],
          },
        ],
        subtotalCents: 25_322,
      },
      taxes: [{ label: 'Sales tax, 8.25% of parts and materials', amountCents: 604 }],
      totalCents: 25_926,
    },
  ],
  decline: {
    amounts: [
      { label: 'Visit fee', amountCents: 8_900 },
      { label: 'Two visits a year: Visit fee', amountCents: -2_225 },
      { label: 'Sales tax', amountCents: 551 },
    ],
    totalCents: 7_226,
  },
};

/** A paper with as many lines as asked for, each with an amount of its own. */
export function paperWithLines(lineCount: number): QuotePaper {
  const lines = Array.from({ length: lineCount }, (_, index): PaperPricedLine => {
    const unitPriceCents = 100 + ((index * 7_919) % 90_000);
    return {
      description: `Line ${index + 1}: sample part for section ${1 + (index % 9)}`,
      detail: index % 5 === 0 ? 'Fitted to the nameplate of the outdoor unit' : undefined,
      quantityText: '2',
      unitPriceCents,
      amountCents: 2 * unitPriceCents,
    };
  });
  const subtotalCents = lines.reduce((sum, line) => sum + line.amountCents, 0);
  return {
    ...capacitorAndContactor,
    quoteNumber: 'Q-10047',
    options: [
      {
        letter: 'A',
        title: `Everything, ${lineCount} lines`,
        prices: { kind: 'separated', groups: [{ heading: 'Parts', lines }], subtotalCents },
        taxes: [{ label: 'Sales tax', amountCents: 1 }],
        totalCents: subtotalCents + 1,
      },
    ],
  };
}

/** Every sample by name. */
/** Work found while an accepted quote was carried out: a no leaves that quote as it was. */
export const changeOrder: QuotePaper = {
  ...pluggedDrain,
  quoteNumber: 'Q-10045',
  changes: { quoteNumber: 'Q-10010', agreedCents: 29_045, hasGrown: false },
  options: pluggedDrain.options.slice(0, 1).map((option) => ({
    ...option,
    prices: {
      kind: 'separated',
      groups: [
        {
          heading: 'The condensate drain is plugged',
          lines: [
            {
              description: 'Clear and flush the drain',
              quantityText: '0.75 h',
              unitPriceCents: 15_100,
              amountCents: 11_325,
            },
          ],
        },
      ],
      subtotalCents: 11_325,
    },
    taxes: [],
    totalCents: 11_325,
  })),
  decline: { amounts: [], totalCents: 0 },
};

export const samplePapers: Record<string, QuotePaper> = {
  changeOrder,
  capacitorAndContactor,
  breakerReset,
  pluggedDrain,
  threeOptions,
  lumpSum,
  weighedGoods,
  longList: paperWithLines(120),
};
