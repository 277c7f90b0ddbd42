/** A change after which nothing can differ, so that no test can notice it. */
export type EqualMutant = {
  /** Below src/. */
  file: string;
  /** The line it begins on, without what indents it. */
  line: string;
  text: string;
  becomes: string;
  why: string;
};

const anythingInIt = '["Stryker was here"]';

export const equalMutants: readonly EqualMutant[] = [
  {
    file: 'auditing/bills/share-verb.ts',
    line: "if (said?.is !== 'work' || said.verb === undefined || !endsAList(segment)) return;",
    text: "said?.is !== 'work'",
    becomes: 'false',
    why: 'What else has a verb names no thing, and ends no list.',
  },
  {
    file: 'auditing/bills/work-with-parts.ts',
    line: "if (named === undefined && reading.is === 'small_material') continue;",
    text: 'named === undefined',
    becomes: 'true',
    why: 'A part of the book is never read by its words.',
  },
  {
    file: 'auditing/bills/work-with-parts.ts',
    line: "return reading.is === 'thing' && categoriesIn(reading).some((each) => own.includes(each));",
    text: "reading.is === 'thing'",
    becomes: 'true',
    why: 'Small material and what is not understood have left the loop before, which types cannot tell.',
  },
  {
    file: 'auditing/jobs/prices-of.ts',
    line: "kind === 'bill' || price === undefined ? undefined : pricedDocument(kind, price),",
    text: "kind === 'bill'",
    becomes: 'false',
    why: 'No bill has a price of ours, so that the second half of the condition holds.',
  },
  {
    file: 'auditing/jobs/prices-of.ts',
    line: "if (kind === 'bill' || price === undefined || book === undefined) return undefined;",
    text: "kind === 'bill'",
    becomes: 'false',
    why: 'No bill has a price of ours, so that the second part of the condition holds.',
  },
  {
    file: 'auditing/rules/came-back.ts',
    line: 'repair.laborWarrantyUntil !== null &&',
    text: 'repair.laborWarrantyUntil !== null',
    becomes: 'true',
    why: 'No day is before null.',
  },
  {
    file: 'auditing/rules/differs-from-book.ts',
    line: 'const byBook = book === undefined || book === stored ? undefined : groupsOf(document, book);',
    text: 'book === stored',
    becomes: 'false',
    why: 'A short way: the same prices are no further below what was charged.',
  },
  {
    file: 'auditing/rules/duplicate-part.ts',
    line: 'if (earlierRepairs.length === 0) return clear;',
    text: 'earlierRepairs.length === 0',
    becomes: 'false',
    why: 'A short way: without an earlier repair no sentence comes of any document.',
  },
  {
    file: 'auditing/rules/recall-charged.ts',
    line: 'judge: ({ documents, findings, visits = [], earlierRepairs }) => {',
    text: '[]',
    becomes: anythingInIt,
    why: 'A text has neither a name nor a fee, so that it is no visit of anything; types refuse it.',
  },
  {
    file: 'auditing/rules/tax-wrong.ts',
    line: 'if (taxLeftCents < dueCents && !isTimeTaxedAsFee(visit, taxInForce)) {',
    text: 'taxLeftCents < dueCents',
    becomes: 'taxLeftCents <= dueCents',
    why: 'Equal ones have left the function two lines above.',
  },
  {
    file: 'auditing/rules/whole-after-others.ts',
    line: 'const wholes = documentsAfter(job.documents, others)',
    text: "documentsAfter(job.documents, others)\n    .filter(({ kind }) => kind === 'bill')",
    becomes: 'documentsAfter(job.documents, others)',
    why: 'Our price stands beside a bill, which is the only document of its job.',
  },
  {
    file: 'auditing/rules/causes-of-difference.ts',
    line: 'if (share === undefined || fair === undefined || Number(share) >= Number(fair)) return [];',
    text: 'fair === undefined',
    becomes: 'false',
    why: 'Both are there, which types cannot tell.',
  },
  {
    file: 'auditing/rules/causes-of-difference.ts',
    line: 'if (share === undefined || fair === undefined || Number(share) >= Number(fair)) return [];',
    text: 'share === undefined',
    becomes: 'false',
    why: 'Both are there, which types cannot tell.',
  },
  {
    file: 'auditing/rules/reset-billed-as-repair.ts',
    line: 'if (stillCents <= 0 || leftCents <= 0) return [];',
    text: 'leftCents <= 0',
    becomes: 'leftCents < 0',
    why: 'No less is left of a material than of what was added to it by hand.',
  },
  {
    file: 'pricing/adjust-charges.ts',
    line: 'if (adjustments.length === 0) return { charges, refusals: [] };',
    text: 'adjustments.length === 0',
    becomes: 'false',
    why: 'A short way: nothing is refused and every charge comes back as it was.',
  },
  {
    file: 'pricing/adjust-charges.ts',
    line: 'const refusal = here.length === 0 ? undefined : refusalOfBand(charge, here, ratio);',
    text: 'here.length === 0',
    becomes: 'false',
    why: 'A short way: with nothing aimed at it a charge is what was computed, and in its band.',
  },
  {
    file: 'pricing/adjust-charges.ts',
    line: 'return here.length === 0 ? charge : { ...charge, adjustments: adjustmentLines(charge, here) };',
    text: 'here.length === 0',
    becomes: 'false',
    why: 'A short way: no lines are added to a charge that has none yet.',
  },
  {
    file: 'pricing/adjust-charges.ts',
    line: "const blame = (byOthers[0] ?? aimed[0])?.pointer ?? '';",
    text: '(byOthers[0] ?? aimed[0])?.pointer',
    becomes: '(byOthers[0] ?? aimed[0]).pointer',
    why: 'Only a charge with something aimed at it comes here, which types cannot tell.',
  },
  {
    file: 'pricing/adjust-charges.ts',
    line: 'const floor = compare(charge.floor, price) < 0 ? charge.floor : price;',
    text: 'compare(charge.floor, price) < 0',
    becomes: 'compare(charge.floor, price) <= 0',
    why: 'Where both are equal it is the same floor, whichever is taken.',
  },
  {
    file: 'pricing/charge-work.ts',
    line: "earlierAccess: EarlierWork['access'] = [],",
    text: '[]',
    becomes: anythingInIt,
    why: 'A text has neither a system nor a way, so that no access is found to be paid; types refuse it.',
  },
  {
    file: 'pricing/compare-text.ts',
    line: 'return a < b ? -1 : 1;',
    text: 'a < b',
    becomes: 'a <= b',
    why: 'Equal ones have left the function a line above.',
  },
  {
    file: 'pricing/credit-visit-fee.ts',
    line: 'const fee = charges.find(({ line }) => line.key === visitFeeKey);',
    text: 'line.key === visitFeeKey',
    becomes: 'true',
    why: 'The fee is the first charge of every option.',
  },
  {
    file: 'pricing/credit-visit-fee.ts',
    line: 'if (fee === undefined) return charges;',
    text: 'fee === undefined',
    becomes: 'false',
    why: 'Every option has a fee, at zero where none is charged, which types cannot tell.',
  },
  {
    file: 'pricing/credit-visit-fee.ts',
    line: 'if (wishedCents === 0) return charges;',
    text: 'wishedCents === 0',
    becomes: 'false',
    why: 'A short way: the largest credit up to nothing is nothing, which makes no line either.',
  },
  {
    file: 'pricing/credit-visit-fee.ts',
    line: "const emptyWhy: Why = { sentence: '', steps: [], owner: [] };",
    text: '[]',
    becomes: anythingInIt,
    why: 'It stands on credits that are only tried; their totals alone are looked at.',
  },
  {
    file: 'pricing/ratio.ts',
    line: 'if (point < 0) return { numerator: BigInt(decimal), denominator: 1n };',
    text: 'point < 0',
    becomes: 'point <= 0',
    why: 'No decimal text of this room begins with its point.',
  },
  {
    file: 'pricing/ratio.ts',
    line: 'return left < right ? -1 : 1;',
    text: 'left < right',
    becomes: 'left <= right',
    why: 'Equal ones have left the function a line above.',
  },
  {
    file: 'pricing/round-half-up-to-cents.ts',
    line: 'const rounded = raised < 0n && quotient * twice !== raised ? quotient - 1n : quotient;',
    text: 'raised < 0n',
    becomes: 'raised <= 0n',
    why: 'Nothing divides without a rest, so that the second half of the condition does not hold.',
  },
  {
    file: 'trade/facts/observed.ts',
    line: "if (answer === undefined || answer === 'unknown') return undefined;",
    text: "answer === undefined || answer === 'unknown'",
    becomes: "answer === undefined && answer === 'unknown'",
    why: 'No look without an answer, or with an unknown one, is among the facts, which types cannot tell.',
  },
  {
    file: 'trade/facts/observed.ts',
    line: "if (answer === undefined || answer === 'unknown') return undefined;",
    text: "answer === 'unknown'",
    becomes: 'false',
    why: 'No look with an unknown answer is among the facts, which types cannot tell.',
  },
  {
    file: 'trade/facts/superheat-against-target.ts',
    line: "return target.kind === 'target' ? target.degF : undefined;",
    text: "target.kind === 'target'",
    becomes: 'true',
    why: 'What is no target has no degrees.',
  },
  {
    file: 'trade/verdicts/last-interruption.ts',
    line: 'if (look === undefined) return seen;',
    text: 'look === undefined',
    becomes: 'false',
    why: 'What holds was looked at, which types cannot tell.',
  },
];
