import type {
  PaperDecline,
  PaperLanguage,
  PaperLine,
  PaperLineGroup,
  PaperOption,
  PaperPricedLine,
} from '../documents/index.ts';
import {
  type Line,
  measuredText,
  type PricedOption,
  type PricedQuote,
  type PricingInputs,
} from '../pricing/index.ts';
import type { PartCategory } from '../trade/index.ts';
import { type PaperWords, paperWords } from './paper-words.ts';
import { type ToldLine, tellLines } from './tell-lines.ts';

/** What it takes to say a price in a language. */
interface Telling {
  words: PaperWords;
  inputs: PricingInputs;
  names: PriceNames;
}

/** What things of a price are called beside its lines. */
export interface PriceNames {
  /** What each finding's work is called, by the finding's id. */
  work: ReadonlyMap<string, string>;
  /** The kind of each part, by its code, where it is known. */
  partKinds?: ReadonlyMap<string, PartCategory> | undefined;
}

/**
 * What the paper says of prices: every option's lines, tax and total, and what a no costs.
 */
export function paperPrices(
  quote: PricedQuote,
  inputs: PricingInputs,
  names: PriceNames,
  language: PaperLanguage = 'en',
): { options: PaperOption[]; decline: PaperDecline } {
  const telling = { words: paperWords[language], inputs, names };
  const { laborRateCents } = quote;
  const declined = { lines: quote.decline.lines, work: [], inputs, laborRateCents };
  return {
    options: quote.options.map((option, at) => {
      const work = inputs.options[at]?.work ?? [];
      const told = tellLines({ lines: option.lines, work, inputs, laborRateCents }, language);
      return paperOption(option, at, told, telling);
    }),
    decline: {
      amounts: tellLines(declined, language)
        .filter(isNotFreeTax)
        .map((told) => ({ label: labelOf(told, telling), amountCents: told.line.amountCents })),
      totalCents: quote.decline.totalCents,
    },
  };
}

const LETTERS = ['A', 'B', 'C'];

function paperOption(
  option: PricedOption,
  at: number,
  told: readonly ToldLine[],
  telling: Telling,
): PaperOption {
  const charges = told.filter(({ line }) => line.kind !== 'tax');
  const taxes = told.filter(({ line }) => line.kind === 'tax').filter(isNotFreeTax);
  const subtotalCents = charges.reduce((sum, { line }) => sum + line.amountCents, 0);
  return {
    letter: LETTERS[at] ?? String(at + 1),
    title: option.title,
    explanation: whySeparated(option, told, telling),
    prices:
      option.stated === 'lump_sum'
        ? {
            kind: 'lump_sum',
            groups: groupLines(onceByAgreement(charges, telling), telling, plainLine),
            priceCents: subtotalCents,
          }
        : { kind: 'separated', groups: groupLines(charges, telling, pricedLine), subtotalCents },
    taxes: taxes.map((each) => ({
      label: labelOf(each, telling),
      amountCents: each.line.amountCents,
    })),
    totalCents: option.totalCents,
  };
}

/** Where a job is a lump sum as a rule, the paper says why this one has its prices one by one. */
function whySeparated(
  { stated }: PricedOption,
  told: readonly ToldLine[],
  { inputs }: Telling,
): string | undefined {
  if (stated === inputs.tax.mode) return undefined;
  return told.find(({ line }) => line.kind === 'tax')?.sentence;
}

/** A tax of nothing is a rule's business; on the paper it would only raise a question. */
function isNotFreeTax({ line }: ToldLine): boolean {
  return line.kind !== 'tax' || line.amountCents !== 0;
}

function labelOf({ line, description }: ToldLine, { words, inputs: { tax } }: Telling): string {
  if (line.kind !== 'tax') return description;
  return words.tax(tax);
}

/** The visit first, then each finding's work, then access, then what is taken off. */
function groupLines<L extends PaperLine>(
  told: readonly ToldLine[],
  telling: Telling,
  toPaper: (told: ToldLine, telling: Telling) => L,
): PaperLineGroup<L>[] {
  const groups = new Map<string, PaperLineGroup<L> & { lines: L[] }>();
  for (const each of inPaperOrder(told)) {
    const { line } = each;
    const heading = headingOf(line, telling);
    // By finding, not by heading: the same work on two machines is two groups.
    const key = 'findingId' in line ? line.findingId : heading;
    const group = groups.get(key) ?? { heading, lines: [] };
    group.lines.push(toPaper(each, telling));
    groups.set(key, group);
  }
  return [...groups.values()];
}

function inPaperOrder(told: readonly ToldLine[]): ToldLine[] {
  return told.toSorted(
    ({ line: a }, { line: b }) => PLACE[a.kind] - PLACE[b.kind] || a.position - b.position,
  );
}

// Parts, goods and labor of one finding share a place, so that they stay together.
const PLACE: Record<Line['kind'], number> = {
  visit_fee: 0,
  part: 1,
  good: 1,
  labor: 1,
  access: 2,
  discount: 3,
  adjustment: 3,
  credit: 3,
  tax: 4,
};

function headingOf(line: Line, { words, names }: Telling): string {
  switch (line.kind) {
    case 'part':
    case 'good':
    case 'labor':
      return names.work.get(line.findingId) ?? words.work;
    default:
      return words.heading[line.kind];
  }
}

function pricedLine(told: ToldLine, telling: Telling): PaperPricedLine {
  const { line, sentence } = told;
  return {
    description: describe(told, telling),
    ...(line.kind === 'part' && {
      quantityText: String(line.quantity),
      unitPriceCents: line.unitPriceCents,
    }),
    ...(line.kind === 'good' && { quantityText: measuredText(line.measured, line.unit) }),
    // A part's price says it all beside its quantity, unless the part is free for a reason.
    ...((line.kind !== 'part' || line.amountCents === 0) && { detail: sentence }),
    amountCents: line.amountCents,
  };
}

function describe({ line, description }: ToldLine, { words, names }: Telling): string {
  switch (line.kind) {
    case 'labor':
      return words.labor(description);
    case 'part':
    case 'good': {
      const kind = names.partKinds?.get(line.code);
      return kind === undefined ? description : words.partName(kind, description);
    }
    default:
      return description;
  }
}

/** Without prices of their own the discounts of an agreement say one thing, so they say it once. */
function onceByAgreement(
  told: readonly ToldLine[],
  { words, inputs: { agreement } }: Telling,
): ToldLine[] {
  const isDiscount = ({ line }: ToldLine) => line.code === 'agreement_discount';
  const first = told.find(isDiscount);
  return told
    .filter((each) => each === first || !isDiscount(each))
    .map((each) =>
      each === first ? { ...each, description: words.agreement(agreement?.name) } : each,
    );
}

/** On a lump-sum paper a line shows pieces, weights and minutes; no price, and so no explanation of one. */
function plainLine(told: ToldLine, telling: Telling): PaperLine {
  const { description, quantityText } = pricedLine(told, telling);
  const { words } = telling;
  const { line } = told;
  const shown = 'minutes' in line ? words.minutes(line.minutes) : quantityText;
  return { description, ...(shown !== undefined && { quantityText: shown }) };
}
