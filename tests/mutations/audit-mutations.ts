import type { Mutation } from './mutation.ts';

const reset = 'tests/auditing/rules/reset-billed-as-repair.test.ts';
const finding = 'tests/auditing/rules/line-without-finding.test.ts';
const ceiling = 'tests/auditing/rules/above-ceiling.test.ts';
const book = 'tests/auditing/rules/differs-from-book.test.ts';
const credit = 'tests/auditing/rules/fee-not-credited.test.ts';
const twice = 'tests/auditing/rules/fee-charged-twice.test.ts';
const warranty = 'tests/auditing/rules/warranted-part-charged.test.ts';
const recall = 'tests/auditing/rules/recall-charged.test.ts';
const tax = 'tests/auditing/rules/tax-wrong.test.ts';
const laws = 'tests/auditing/judge-job.test.ts';

/** Mistakes in what the audit says of charges and their price. */
export const auditMutations: readonly Mutation[] = [
  {
    breaks: 'a reset that somebody wrote down as a repair passes the audit',
    file: 'src/auditing/rules/reset-billed-as-repair.ts',
    find: "({ faultCode, taskCode }: JobFinding): boolean {\n  return remedyFor(faultCode, taskCode)?.remedyClass === 'reset';",
    replace: "({ remedyClass }: JobFinding): boolean {\n  return remedyClass === 'reset';",
    caughtBy: { file: reset, name: 'a flipped breaker billed as a repair comes to the fee' },
  },
  {
    breaks: 'the way in of a repair is given back because a reset shared it',
    file: 'src/auditing/rules/reset-billed-as-repair.ts',
    find: '!ids.every((id) => resets.has(id))',
    replace: '!ids.some((id) => resets.has(id))',
    caughtBy: { file: reset, name: 'a way in that a repair needs too stays charged' },
  },
  {
    breaks: 'a bill of one sum for a reset stands at any price',
    file: 'src/auditing/rules/reset-billed-as-repair.ts',
    find: 'if (leftCents <= toCents) return [];',
    replace: 'return [];',
    caughtBy: { file: reset, name: 'a bill of one sum for a flipped breaker comes to the fee' },
  },
  {
    breaks: 'a compressor is charged on a finding that is only supported',
    file: 'src/auditing/rules/line-without-finding.ts',
    find: "remedyFor(faultCode, taskCode)?.needs !== 'proven'",
    replace: 'true',
    caughtBy: { file: finding, name: 'a compressor that is only supported' },
  },
  {
    breaks: 'a charge for a finding that the job does not have passes the audit',
    file: 'src/auditing/rules/line-without-finding.ts',
    find: 'if (whyNot.includes(undefined)) return [];',
    replace: 'if (whyNot.length === 0 || whyNot.includes(undefined)) return [];',
    caughtBy: { file: finding, name: 'a charge for a finding that the job does not have' },
  },
  {
    breaks: 'other work than the finding asks for is sold under it',
    file: 'src/auditing/rules/line-without-finding.ts',
    find: 'own.faultCode !== faultCode || own.taskCode !== taskCode',
    replace: 'own.faultCode !== own.faultCode',
    caughtBy: { file: finding, name: 'a charge for other work than its finding asks for' },
  },
  {
    breaks: 'half a cent above the ceiling is rounded up to it',
    file: 'src/auditing/rules/ceiling-cents.ts',
    find: 'BigInt(priceCents) * (denominator + numerator)) / denominator',
    replace: 'BigInt(priceCents) * (denominator + numerator) + denominator - 1n) / denominator',
    caughtBy: { file: ceiling, name: 'raised by hand beyond it' },
  },
  {
    breaks: 'what the owner raised with a reason is flagged as too dear',
    file: 'src/auditing/rules/above-ceiling.ts',
    find: '({ byOwner }) => byOwner',
    replace: '({ byOwner }) => !byOwner',
    caughtBy: { file: ceiling, name: 'raised by the owner beyond it' },
  },
  {
    breaks: 'a fee above what was told passes within the tolerance',
    file: 'src/auditing/rules/above-ceiling.ts',
    find: "key === visitFeeKey ? '0' : priced.inputs.policy.fairBandTolerance",
    replace: 'priced.inputs.policy.fairBandTolerance',
    caughtBy: { file: ceiling, name: 'a fee above what was told' },
  },
  {
    breaks: 'of another company’s bill more goes back than the whole is too much',
    file: 'src/auditing/rules/over-fair-price.ts',
    find: 'const off = Math.min(rest, over);',
    replace: 'const off = rest > 0 ? over : 0;',
    caughtBy: { file: ceiling, name: 'no more goes back than the whole is too much' },
  },
  {
    breaks: 'a padded price passes because it was stored with the quote',
    file: 'src/auditing/jobs/prices-of.ts',
    find: 'if (sameTerms(alone, substitution.inputs)) return stored(document);',
    replace: 'return stored(document);',
    caughtBy: { file: book, name: 'ninety minutes where the book has forty-five' },
  },
  {
    breaks: 'a job of the day is charged by the evening’s factor',
    file: 'src/auditing/jobs/prices-of.ts',
    find: 'periods: new Map([[period.code, hours]])',
    replace: 'periods: new Map([[period.code, period]])',
    caughtBy: {
      file: book,
      name: 'the evening’s factor on a visit whose window was agreed to by day',
    },
  },
  {
    breaks: 'the way in is charged again by a change order',
    file: 'src/auditing/rules/differs-from-book.ts',
    find: 'over.push(...accessTwice(documents, prices));',
    replace: '',
    caughtBy: {
      file: book,
      name: 'a change order behind the same panel that was priced as if it stood alone',
    },
  },
  {
    breaks: 'a trip of another day is taken for the visit that opened the system',
    file: 'src/auditing/rules/access-twice.ts',
    find: 'if (one.visitId === undefined || one.visitId !== other.visitId) return false;',
    replace: '',
    caughtBy: { file: book, name: 'another visit opens it anew' },
  },
  {
    breaks: 'a discount that moved to another labor is given back twice',
    file: 'src/auditing/rules/differs-from-book.ts',
    find: "if (key.startsWith('labor:')) return 'labor';",
    replace: '',
    caughtBy: { file: book, name: 'a padded second task that became the dearest' },
  },
  {
    breaks: 'work left undone makes dear labor beside it look cheap',
    file: 'src/auditing/rules/differs-from-book.ts',
    find: 'const overCents = chargedCents + givenBackCents - pricedCents;',
    replace: 'const overCents = chargedCents - pricedCents;',
    caughtBy: { file: book, name: 'work left undone makes no other work cheaper' },
  },
  {
    breaks: 'two figures of the book that differ count as the same',
    file: 'src/auditing/jobs/same-terms.ts',
    find: 'if (!names.has(key) && !sameTerms(one[key], other[key])) return false;',
    replace: '',
    caughtBy: { file: book, name: 'a part at a cost of 60.00 where the book has 18.40' },
  },
  {
    breaks: 'the audit asks for more credit of the fee than labor was charged',
    file: 'src/auditing/rules/fee-not-credited.ts',
    find: 'const dueCents = cents(Math.min(fee.dueCents, restCents));',
    replace: 'const dueCents = fee.dueCents;',
    caughtBy: { file: credit, name: 'labor given back since leaves nothing to credit' },
  },
  {
    breaks: 'a credit of the fee given back by a memo is asked for again',
    file: 'src/auditing/jobs/fee-of.ts',
    find: 'creditedCents: cents(withYesCents + forYes),',
    replace: 'creditedCents: cents(withYesCents),',
    caughtBy: { file: credit, name: 'given back by a memo since' },
  },
  {
    breaks: 'coming back with the part is a trip with a fee',
    file: 'src/auditing/rules/fee-charged-twice.ts',
    find: "return purpose === 'call' && isTrip && sameTripAs === null && feeCents > 0;",
    replace: "return purpose !== '' && isTrip && sameTripAs === null;",
    caughtBy: { file: twice, name: 'coming back with the part' },
  },
  {
    breaks: 'two visits of one trip have two fees',
    file: 'src/auditing/rules/fee-charged-twice.ts',
    find: 'isTrip && sameTripAs === null && feeCents > 0',
    replace: 'isTrip && (sameTripAs !== null || feeCents > 0)',
    caughtBy: { file: twice, name: 'two systems of one trip, seen at two visits' },
  },
  {
    breaks: 'a part is charged on the last day of its maker’s warranty',
    file: 'src/auditing/rules/warranted-part-charged.ts',
    find: "if (until < (dayOfYes(document) ?? '')) return [];",
    replace: "if (until <= (dayOfYes(document) ?? '')) return [];",
    caughtBy: { file: warranty, name: 'on its last day' },
  },
  {
    breaks: 'the day of the yes is looked at in UTC',
    file: 'src/auditing/jobs/day-of-yes.ts',
    find: 'agreed?.acceptedOn;',
    replace: 'agreed?.acceptedAt.slice(0, 10);',
    caughtBy: { file: warranty, name: 'by the local day of the yes' },
  },
  {
    breaks: 'the same fault of another system is mended at no charge',
    file: 'src/auditing/rules/came-back.ts',
    find: 'systemId === finding.systemId &&',
    replace: "systemId !== '' &&",
    caughtBy: { file: recall, name: 'the same fault of another system' },
  },
  {
    breaks: 'the way in to a new fault is given back with our own work come back',
    file: 'src/auditing/rules/recall-charged.ts',
    find: 'findingIds.every((id) => recalled.has(id))',
    replace: 'findingIds.some((id) => recalled.has(id))',
    caughtBy: { file: recall, name: 'beside a new fault' },
  },
  {
    breaks: 'what was mended and found again at one visit takes the fee of the call away',
    file: 'src/auditing/rules/recall-charged.ts',
    find: '.filter((repair) => repair.visitId !== visitId);',
    replace: ';',
    caughtBy: { file: recall, name: 'found again at the visit of the earlier repair' },
  },
  {
    breaks: 'every charge names the same earlier repair',
    file: 'src/auditing/rules/recall-charged.ts',
    find: 'return findingIds.flatMap((id) => recalled.get(id) ?? [])',
    replace: 'return [...recalled.values()].flat()',
    caughtBy: { file: recall, name: 'each charge names the repair that it is for' },
  },
  {
    breaks: 'the tax is judged by the rule that charged it',
    file: 'src/auditing/jobs/tax-due.ts',
    find: 'return taxOfTheRest({ lines, work: taxing.work, tax, stated }, credited);',
    replace: 'return taxOfTheRest({ lines, ...taxing, stated }, credited);',
    caughtBy: { file: tax, name: 'at 10 % where the rule in force has 8.25 %' },
  },
  {
    breaks: 'a tax that is too little is given back',
    file: 'src/auditing/rules/tax-wrong.ts',
    find: 'dueCents < taxLeftCents ? [correction] : []',
    replace: 'dueCents < taxLeftCents ? [] : [correction]',
    caughtBy: { file: tax, name: 'more than its own rule comes to' },
  },
  {
    breaks: 'a bill put right comes to less than a no',
    file: 'src/auditing/jobs/less-unearned-credit.ts',
    find: 'if (unearned === 0) return [...visit];',
    replace: 'if (unearned >= 0) return [...visit];',
    caughtBy: { file: reset, name: 'a flipped breaker billed as a repair comes to the fee' },
  },
  {
    breaks: 'two rules about one charge: the milder one counts',
    file: 'src/auditing/jobs/correct-documents.ts',
    find: 'return Math.min(leftCents, ...to);',
    replace: 'return to.length === 0 ? leftCents : Math.min(leftCents, Math.max(...to));',
    caughtBy: { file: laws, name: 'a flag that was put right is none any more' },
  },
  {
    breaks: 'a flag that was put right is raised again and again',
    file: 'src/auditing/judge-job.ts',
    find: 'if (overCents === 0 && wasPutRight(job, corrections, prices)) return [];',
    replace: '',
    caughtBy: { file: laws, name: 'a reset that was put right is none any more' },
  },
];
