import { describe, expect, test } from 'vitest';
import {
  type Appliance,
  certificateRefusal,
  type Section608Type,
} from '../../../src/trade/refrigerant/certificate-refusal.ts';
import { chargeRefusal } from '../../../src/trade/refrigerant/charge-refusal.ts';
import {
  refrigerantCodeSchema,
  refrigerants,
} from '../../../src/trade/refrigerant/refrigerants.ts';
import { saleRefusal } from '../../../src/trade/refrigerant/sale-refusal.ts';
import { serviceCautions } from '../../../src/trade/refrigerant/service-cautions.ts';

const codes = refrigerantCodeSchema.options;

describe('certificates (40 CFR 82.161)', () => {
  const split: Appliance = { kind: 'split_or_packaged' };
  const windowUnit = (chargeLb: number): Appliance => ({ kind: 'factory_sealed', chargeLb });
  const rows: [string, Section608Type[], Appliance, string | undefined][] = [
    ['nobody without a certificate touches a split system', [], split, 'certificate_missing'],
    ['type I alone does not cover a split system', ['type_1'], split, 'certificate_of_other_type'],
    ['type II covers a split system', ['type_2'], split, undefined],
    [
      'type III alone does not cover a split system',
      ['type_3'],
      split,
      'certificate_of_other_type',
    ],
    [
      'types I and III together do not either',
      ['type_1', 'type_3'],
      split,
      'certificate_of_other_type',
    ],
    ['universal covers a split system', ['universal'], split, undefined],
    ['types I and II together cover a split system', ['type_1', 'type_2'], split, undefined],
    [
      'nobody without a certificate touches a window unit',
      [],
      windowUnit(2),
      'certificate_missing',
    ],
    ['type I covers a sealed window unit of 5 lb', ['type_1'], windowUnit(5), undefined],
    [
      'type I does not cover a sealed unit above 5 lb',
      ['type_1'],
      windowUnit(5.1),
      'certificate_of_other_type',
    ],
    ['type II covers a sealed unit above 5 lb', ['type_2'], windowUnit(5.1), undefined],
    [
      'type II alone leaves out small appliances',
      ['type_2'],
      windowUnit(2),
      'certificate_of_other_type',
    ],
    ['universal covers a sealed window unit', ['universal'], windowUnit(2), undefined],
  ];
  test.each(rows)('%s', (_name, certificates, appliance, code) => {
    expect(certificateRefusal(certificates, appliance)?.code).toBe(code);
  });

  test('the refusal says which certificate is needed', () => {
    expect(certificateRefusal(['type_1'], split)?.message).toContain('type II or universal');
    expect(certificateRefusal([], windowUnit(2))?.message).toContain('type I or universal');
  });
});

describe('charging', () => {
  test('only what the nameplate names goes in, whatever the pair', () => {
    for (const refrigerant of codes) {
      for (const nameplate of codes) {
        expect(chargeRefusal(refrigerant, nameplate) === undefined).toBe(refrigerant === nameplate);
      }
    }
  });

  test.each(codes)('%s waits until the nameplate is recorded', (refrigerant) => {
    expect(chargeRefusal(refrigerant, undefined)?.code).toBe('nameplate_refrigerant_unknown');
  });

  // 40 CFR 82 subpart G, appendix W: new equipment designed and marked for it, no retrofit.
  test('what can burn never replaces what was there, not even another that can burn', () => {
    for (const refrigerant of codes.filter((code) => refrigerants[code].safetyGroup === 'A2L')) {
      for (const nameplate of codes.filter((code) => code !== refrigerant)) {
        expect(chargeRefusal(refrigerant, nameplate)?.code).toBe('a2l_retrofit');
      }
    }
  });

  test('R-410A into an R-22 system is refused in words that name both', () => {
    const refusal = chargeRefusal('R-410A', 'R-22');
    expect(refusal?.code).toBe('other_refrigerant');
    expect(refusal?.message).toBe(
      'The nameplate says R-22. R-410A does not go into it, not even to top up.',
    );
  });
});

// 40 CFR 82.154(c).
test('refrigerant is sold to technicians and their employers, never to a customer', () => {
  expect(saleRefusal('customer')?.code).toBe('sale_restricted');
  expect(saleRefusal('certified_technician')).toBeUndefined();
  expect(saleRefusal('employer_of_certified_technician')).toBeUndefined();
});

test('what can burn brings its cautions, ignition first; nothing else does', () => {
  for (const code of codes) {
    const cautions = serviceCautions(code);
    if (refrigerants[code].safetyGroup === 'A1') expect(cautions).toEqual([]);
    else expect(cautions[0]).toContain('burn');
  }
  const all = serviceCautions('R-32').join(' ');
  for (const word of ['flame', 'recovery machine', 'nitrogen', 'left-hand thread', 'sensor']) {
    expect(all).toContain(word);
  }
});
