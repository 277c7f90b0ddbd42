import type { Mutation } from './mutation.ts';

const workshop = 'tests/pricing/rate-workshop.test.ts';
const words = 'tests/pricing/why-in-words.test.ts';
const reprice = 'tests/quotes/reprice-quotes.test.ts';

/** Mistakes in how a rate is taken apart, a price is explained and a stored one checked. */
export const derivationMutations: readonly Mutation[] = [
  {
    breaks: 'the markup that equals a margin is the margin',
    file: 'src/pricing/rate-workshop.ts',
    find: 'numerator: margin.denominator - margin.numerator,',
    replace: 'numerator: margin.denominator,',
    caughtBy: { file: workshop, name: 'a margin is no markup' },
  },
  {
    breaks: 'what a margin put on the cost leaves is taken for the margin',
    file: 'src/pricing/rate-workshop.ts',
    find: 'marginLeft: figureOf(over(margin, onePlus), ',
    replace: 'marginLeft: figureOf(margin, ',
    caughtBy: { file: workshop, name: 'which leaves 13.04 % of the price and not 15 %' },
  },
  {
    breaks: 'break-even forgets truck and overhead',
    file: 'src/pricing/rate-workshop.ts',
    find: 'over(multiply(cost, billableHours), wholeRatio(rateCents))',
    replace: 'over(wage, wholeRatio(rateCents))',
    caughtBy: { file: workshop, name: 'is paid after 979.2 billed hours' },
  },
  {
    breaks: 'the whole overhead falls on one technician',
    file: 'src/pricing/rate-workshop.ts',
    find: 'over(wholeRatio(rates.annualOverheadCents), wholeRatio(rates.technicianCount))',
    replace: 'wholeRatio(rates.annualOverheadCents)',
    caughtBy: { file: workshop, name: 'the rate is the engine’s own, and the parts come to' },
  },
  {
    breaks: 'a rounded figure is said to be exact',
    file: 'src/pricing/decimal-text.ts',
    find: 'isExact: scaled % denominator === 0n',
    replace: 'isExact: true',
    caughtBy: {
      file: 'tests/pricing/decimal-text.test.ts',
      name: 'is never more than half a last digit away',
    },
  },
  {
    breaks: 'the words do not say what a rounding came to',
    file: 'src/pricing/why-in-words.ts',
    find: 'dollarsText(node.cents)',
    replace: "''",
    caughtBy: { file: words, name: 'the words say every rounding that is stored, to the cent' },
  },
  {
    breaks: 'a decimal for reading stands for hundredths of its value',
    file: 'src/pricing/why-in-words.ts',
    find: 'denominator: denominator * 100n }',
    replace: 'denominator: denominator * 10_000n }',
    caughtBy: { file: words, name: 'a decimal behind ~ is the nearest to its fraction' },
  },
  {
    breaks: 'the words for the customer hold what is for the owner',
    file: 'src/pricing/why-for-customer.ts',
    find: '({ sentence, steps }: Why): CustomerWhy {\n  return { sentence, steps };',
    replace: '(why: Why): CustomerWhy {\n  return why;',
    caughtBy: { file: words, name: 'the customer’s words never hold the' },
  },
  {
    breaks: 'a discount on a taxed line does not lower what is taxed',
    file: 'src/pricing/explain-totals.ts',
    find: 'return aimedAt ?? key;',
    replace: 'return key;',
    caughtBy: {
      file: 'tests/pricing/explain-totals.test.ts',
      name: 'a discount counts with what it is aimed at',
    },
  },
  {
    breaks: 'parts are explained as taxed like materials',
    file: 'src/pricing/explain-totals.ts',
    find: "good.taxClass ?? 'part'",
    replace: "good.taxClass ?? 'material'",
    caughtBy: {
      file: 'tests/pricing/explain-totals.test.ts',
      name: 'are the total and the taxed amounts of the engine, whatever is quoted',
    },
  },
  {
    breaks: 'a planted cent is not seen when prices are computed again',
    file: 'src/quotes/revision-differences.ts',
    find: "jsonDifferences('', stored, now)",
    replace: "jsonDifferences('', { ...stored, amountCents: now.amountCents }, now)",
    caughtBy: { file: reprice, name: 'one cent of one line' },
    database: true,
  },
  {
    breaks: 'the reasons of a line are not compared when prices are computed again',
    file: 'src/quotes/revision-differences.ts',
    find: "jsonDifferences('', stored, now)",
    replace: "jsonDifferences('', { ...stored, why: now.why }, now)",
    caughtBy: { file: reprice, name: 'one digit within a reason' },
    database: true,
  },
  {
    breaks: 'a difference inside a list is not seen',
    file: 'src/quotes/json-differences.ts',
    find: 'if (isTree(stored) && isTree(now) &&',
    replace: 'if (Array.isArray(stored)) return [];\n  if (isTree(stored) && isTree(now) &&',
    caughtBy: { file: reprice, name: 'a step taken out of a reason' },
    database: true,
  },
  {
    breaks: 'a quote whose paper was taken away is not checked any more',
    file: 'src/quotes/revision-differences.ts',
    find: "new Set<string | null>(['issued', 'accepted', 'declined'])",
    replace: 'new Set<string | null>([])',
    caughtBy: { file: reprice, name: 'the paper taken away' },
    database: true,
  },
  {
    breaks: 'a price under unknown rules is computed by the present ones',
    file: 'src/quotes/price-again.ts',
    find: 'version === rulesetVersion)',
    replace: 'version !== rulesetVersion || true)',
    caughtBy: { file: reprice, name: 'the version of its rules' },
    database: true,
  },
  {
    breaks: 'the second of two drafts undoes the first unseen',
    file: 'src/pricebook/drafts/end-draft.ts',
    find: 'newest.id === basedOn?.id',
    replace: 'basedOn !== undefined',
    caughtBy: {
      file: 'tests/api/price-book-draft-base.test.ts',
      name: 'its preview says that another book has come, and publishing it is refused',
    },
    database: true,
  },
  {
    breaks: 'more hours are worked than are paid',
    file: 'src/pricebook/rates-contract.ts',
    find: 'annualPaidHours < 1 || hours <= annualPaidHours',
    replace: 'annualPaidHours < 1 || hours > 0',
    caughtBy: {
      file: 'tests/api/rate-workshop.test.ts',
      name: 'rates that cannot be are refused by the field that is wrong',
    },
    database: true,
  },
  {
    breaks: 'a technician reads why another’s quote costs what it costs',
    file: 'src/quotes/read-quote.ts',
    find: 'const where = { id, ticket: ownTickets(asker.actor) };',
    replace: 'const where = { id };',
    caughtBy: { file: 'tests/api/why-quote.test.ts', name: 'is told that there is none' },
    database: true,
  },
  {
    breaks: 'everybody reads what tax the company owes on its materials',
    file: 'src/quotes/why-quote.ts',
    find: '...(isOwner && useTaxOf(',
    replace: '...(useTaxOf(',
    caughtBy: { file: 'tests/api/why-quote.test.ts', name: 'nor does one of a lump sum' },
    database: true,
  },
];
