import { type Cents, cents, dollarsText, percentText, type TaxRule } from '../../pricing/index.ts';
import { billedWith } from '../jobs/billed-together.ts';
import { isTimeTaxedAsFee } from '../jobs/is-time-taxed-as-fee.ts';
import type { JobDocument } from '../jobs/job-facts.ts';
import { mayStandForFee } from '../jobs/may-stand-for-fee.ts';
import type { JobPrices } from '../jobs/prices-of.ts';
import { taxDue } from '../jobs/tax-due.ts';
import { cannotJudge, flaggedBy } from './answers.ts';
import type { AuditRule, Correction } from './audit-rule.ts';

/**
 * The tax that is left of a document is what the rule in force at the yes comes to on what is left of
 * its charges. Too little, or a tax where no rule is on record, is for the owner to look at: nobody
 * gives that back, and no customer is asked for it later, but whoever sold owes the state what was
 * not collected.
 */
export const taxWrong: AuditRule<'tax_wrong'> = {
  code: 'tax_wrong',
  statement: 'The tax is what the rule in force at the yes comes to.',
  severity: 'owed',
  source:
    'Streamlined Sales and Use Tax Agreement, section 324, for its rounding; who owes what was not collected: California Revenue and Taxation Code, section 6204, West Virginia Code, section 11-15-4a, and alike elsewhere',
  judge: ({ documents }, prices) => {
    const judged = documents.map((document) => judgeTax(document, documents, prices));
    const flagged = judged.filter((each) => each !== undefined);
    if (flagged.length < judged.length) return cannotJudge('tax_in_force');
    return flaggedBy(
      flagged.flatMap(({ sentences }) => sentences),
      flagged.flatMap(({ corrections }) => corrections),
    );
  },
};

interface TaxAnswer {
  readonly sentences: readonly string[];
  readonly corrections: readonly Correction[];
}

const right: TaxAnswer = { sentences: [], corrections: [] };

/** Undefined where it cannot be judged. */
function judgeTax(
  document: JobDocument,
  documents: readonly JobDocument[],
  prices: JobPrices,
): TaxAnswer | undefined {
  const { taxInForce, taxing, taxLeftCents, title } = document;
  if (taxInForce === undefined || taxing === undefined) return undefined;
  if (taxInForce === null) {
    const sentence = `Tax of ${dollarsText(taxLeftCents)} is charged on ${title}, and no tax rule of that place is on record.`;
    return taxLeftCents > 0 ? { sentences: [sentence], corrections: [] } : right;
  }
  const dueOn = (credited: JobDocument['credited']) =>
    taxDue(document, taxing, taxInForce, credited, prices);
  const dueCents = dueOn(document.credited);
  if (dueCents === taxLeftCents) return right;
  const visit = billedWith(document, documents);
  if (taxLeftCents < dueCents && !isTimeTaxedAsFee(visit, taxInForce)) {
    const standing = mayStandForFee(document, visit, prices);
    if (taxLeftCents >= dueOn([...document.credited, ...standing])) return right;
  }
  return differing(document, dueCents, taxInForce);
}

function differing(
  { invoiceId, position, title, taxLeftCents }: JobDocument,
  dueCents: Cents,
  { name, rate }: TaxRule,
): TaxAnswer {
  const due = `${name} at ${percentText(rate)} comes to ${dollarsText(dueCents)} on what is left of it.`;
  if (taxLeftCents < dueCents) {
    const shortCents = cents(dueCents - taxLeftCents);
    const charged = taxLeftCents === 0 ? 'none' : dollarsText(taxLeftCents);
    const told = `${dollarsText(shortCents)} of tax is short on ${title}: ${charged} is charged, and ${due} ${whoOwesIt}`;
    return { sentences: [told], corrections: [] };
  }
  const told = `Tax of ${dollarsText(taxLeftCents)} is charged on ${title}; ${due}`;
  const correction = { invoiceId, position, key: 'tax', toCents: dueCents };
  return { sentences: [told], corrections: [correction] };
}

const whoOwesIt =
  'The customer owes nothing more. In most states the company owes the state what it did not collect: please tell whoever files the sales tax.';
