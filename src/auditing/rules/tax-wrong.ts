import { type Cents, dollarsText, percentText, type TaxRule } from '../../pricing/index.ts';
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
 * gives that back.
 */
export const taxWrong: AuditRule<'tax_wrong'> = {
  code: 'tax_wrong',
  statement: 'The tax is what the rule in force at the yes comes to.',
  severity: 'owed',
  source: 'Streamlined Sales and Use Tax Agreement, section 324, for its rounding',
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
  const told = `Tax of ${dollarsText(taxLeftCents)} is charged on ${title}; ${name} at ${percentText(rate)} comes to ${dollarsText(dueCents)} on what is left of it.`;
  const correction = { invoiceId, position, key: 'tax', toCents: dueCents };
  return { sentences: [told], corrections: dueCents < taxLeftCents ? [correction] : [] };
}
