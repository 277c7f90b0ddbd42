import type { BilledLine, TaxedDocument } from '../../src/billing/index.ts';
import { cents, pricingInputsSchema, type Stated } from '../../src/pricing/index.ts';
import type { HandInputs, HandWork } from '../pricing/oracle/hand-inputs.ts';
import { capacitorWork, contactorWork, workedInvoice } from '../pricing/oracle/hand-worked.ts';

/*
 * The published invoice of a place that taxes parts alone, at 8.25 %, as it stands on paper:
 *
 *     visit fee                         89.00
 *     capacitor                         55.20
 *     labor, 45 min at 151.00          113.25
 *     contactor                         65.25
 *     labor, 30 min at 151.00           75.50
 *     second task, 20 % of 75.50       -15.10
 *                                      383.10
 *     tax on 120.45                      9.94    once for the invoice: 9.937125
 *                                        9.93    line by line: 4.554 -> 4.55, 5.383 -> 5.38
 *                                      393.04 or 393.03
 *
 * Source: arithmetic anyone can redo; invoice and item basis, and rounding on the third decimal, by
 * the Streamlined Sales and Use Tax Agreement, section 324. Lines are written by hand here, so that
 * what bills and credits come to does not rest on the engine that prices quotes.
 */

export const partsTaxed: Partial<HandInputs['tax']> = { rate: '0.0825', taxableClasses: ['part'] };
export const partsTaxedByLine: Partial<HandInputs['tax']> = { ...partsTaxed, basis: 'item' };

/** Keys of the lines, so that a row of a table reads as the paper does. */
export const at = {
  fee: 'visit_fee',
  capacitor: 'part:finding-capacitor:replace_run_capacitor:capacitor_45_5',
  capacitorLabor: 'labor:finding-capacitor:replace_run_capacitor',
  contactor: 'part:finding-contactor:replace_contactor:contactor_30a',
  contactorLabor: 'labor:finding-contactor:replace_contactor',
  secondTask: 'discount:labor:finding-contactor:replace_contactor:second_task',
  tax: 'tax',
} as const;

export function line(
  key: string,
  amountCents: number,
  words: Partial<Omit<BilledLine, 'key' | 'amountCents'>> = {},
): BilledLine {
  const [kind = ''] = key.split(':');
  return {
    key,
    kind,
    priceClass: kind === 'good' ? 'part' : kind,
    description: key,
    aimedAt: null,
    findingIds: [],
    amountCents: cents(amountCents),
    ...words,
  };
}

/** The six lines and the tax; `more` stands before the tax. */
export function workedLines(taxCents: number, more: readonly BilledLine[] = []): BilledLine[] {
  const capacitor = { findingIds: ['finding-capacitor'] };
  const contactor = { findingIds: ['finding-contactor'] };
  const secondTask = { priceClass: 'labor', aimedAt: at.contactorLabor };
  return [
    line(at.fee, 8_900),
    line(at.capacitor, 5_520, capacitor),
    line(at.capacitorLabor, 11_325, capacitor),
    line(at.contactor, 6_525, contactor),
    line(at.contactorLabor, 7_550, contactor),
    line(at.secondTask, -1_510, secondTask),
    ...more,
    line(at.tax, taxCents),
  ];
}

/** The published invoice as far as credits look at it. */
export function workedDocument(
  tax: Partial<HandInputs['tax']>,
  {
    lines = workedLines(994),
    work = [capacitorWork(), contactorWork()],
    stated = 'separated' as Stated,
  }: { lines?: BilledLine[]; work?: HandWork[]; stated?: Stated } = {},
): TaxedDocument {
  const inputs = parsed(tax, work);
  return { lines, tax: inputs.tax, stated, work: inputs.options[0]?.work ?? [] };
}

/** What the published invoice was priced from. */
export function parsed(
  tax: Partial<HandInputs['tax']>,
  work: HandWork[] = [capacitorWork(), contactorWork()],
  changes: Partial<HandInputs> = {},
) {
  const options = [{ title: 'Repair', work, adjustments: [] }];
  return pricingInputsSchema.parse({ ...workedInvoice(tax), options, ...changes });
}
