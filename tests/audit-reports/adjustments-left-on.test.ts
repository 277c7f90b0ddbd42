import { describe, expect, it } from 'vitest';
import { adjustmentsLeftOn } from '../../src/audit-reports/adjustments-left-on.ts';
import { cents } from '../../src/pricing/index.ts';
import { at, line, partsTaxed, workedDocument, workedLines } from '../billing/worked-bill.ts';

/** The published invoice with amounts that somebody added by hand, by the charge they are aimed at. */
function adjusted(added: Partial<Record<keyof typeof at, number>>) {
  const more = Object.entries(added).map(([charge, amountCents]) => {
    const aimedAt = Object.entries(at).find(([name]) => name === charge)?.[1] ?? '';
    const [priceClass = ''] = aimedAt.split(':');
    return line(`adjustment:${aimedAt}:1`, amountCents, { priceClass, aimedAt });
  });
  return workedDocument(partsTaxed, { lines: workedLines(994, more) });
}

const back = (key: string, amountCents: number) => ({ key, amountCents: cents(amountCents) });

describe('what is left of amounts that were added by hand', () => {
  // Of goods 8.25 % tax go with it: 120.45 make 9.937125, 130.45 make 10.762125, 125.45 10.349625.
  it.each([
    { name: 'all of it', added: { capacitorLabor: 5_000 }, credited: [], left: 5_000 },
    { name: 'its tax with it', added: { capacitor: 1_000 }, credited: [], left: 1_000 + 82 },
    {
      name: 'nothing once as much was given back',
      added: { capacitorLabor: 5_000 },
      credited: [back(at.capacitorLabor, 5_000)],
      left: 0,
    },
    {
      name: 'half of it, with half of its tax',
      added: { capacitor: 1_000 },
      credited: [back(at.capacitor, 500)],
      left: 500 + 41,
    },
    {
      name: 'nothing where more was given back than was added',
      added: { capacitorLabor: 5_000 },
      credited: [back(at.capacitorLabor, 9_000)],
      left: 0,
    },
    {
      name: 'all of it where another charge was given back',
      added: { capacitorLabor: 5_000 },
      credited: [back(at.contactorLabor, 5_000)],
      left: 5_000,
    },
    {
      name: 'what was taken off, below zero',
      added: { contactorLabor: -2_000 },
      credited: [back(at.contactorLabor, 1_000)],
      left: -2_000,
    },
  ])('is $name', ({ added, credited, left }) => {
    expect(adjustmentsLeftOn(adjusted(added), credited)).toBe(left);
  });
});
