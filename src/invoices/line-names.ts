import { keyOfUndone, pricedAgain } from '../billing/index.ts';
import type { PaperLanguage } from '../documents/index.ts';
import type { Tx } from '../platform/database/database.ts';
import {
  describeInSpanish,
  type Line,
  type PricingInputs,
  pricingInputsSchema,
  taxLabel,
  taxLabelInSpanish,
} from '../pricing/index.ts';
import {
  type PartCategory,
  partCategorySchema,
  partInSpanish,
  taskInSpanish,
} from '../trade/index.ts';

/** A line of a bill or of a memo, as far as it is named. */
interface NamedLine {
  readonly key: string;
  readonly kind: string;
  readonly description: string;
}

/** What a line is called on paper, in each language; what a person named stays as it was named. */
export type LineNames = Record<PaperLanguage, (line: NamedLine) => string>;

/** What the lines of a document were priced from: an accepted quote, or the fee of a trip alone. */
export type PricedSource =
  | { readonly quoteId: string }
  | { readonly inputs: PricingInputs; readonly rulesetVersion: string };

/**
 * Names the lines of one document, in Spanish by pricing it again from its stored inputs. The tax is
 * named as the quote named it, with its rate and what it is of, so that anyone can check it; where it
 * is owed is a code that says nothing to a customer.
 */
export async function lineNames(tx: Tx, source: PricedSource): Promise<LineNames> {
  const { inputs, lines, kindOf } =
    'quoteId' in source ? await acceptedLines(tx, source.quoteId) : feeLines(source);
  const context = { lines, inputs, taskName: taskInSpanish };
  return {
    en: ({ kind, description }) => (kind === 'tax' ? taxLabel(inputs.tax) : description),
    es: ({ key, kind, description }) => {
      if (kind === 'tax') return taxLabelInSpanish(inputs.tax);
      const of = (wanted: string) => lines.find((each) => each.key === wanted);
      const line = of(key) ?? of(keyOfUndone(key));
      if (line === undefined) return description;
      const named = describeInSpanish(line, context);
      const category = kindOf(line.code);
      return category === undefined ? named : partInSpanish(category, named);
    },
  };
}

interface SpokenLines {
  inputs: PricingInputs;
  lines: readonly Line[];
  /** What kind of part has this code, where it is one that the price book knows. */
  kindOf(code: string): PartCategory | undefined;
}

async function acceptedLines(tx: Tx, quoteId: string): Promise<SpokenLines> {
  const { optionId } = await tx.quoteAcceptance.findUniqueOrThrow({ where: { quoteId } });
  const { position, revision } = await tx.quoteOption.findUniqueOrThrow({
    where: { id: optionId },
    include: { revision: true },
  });
  const { rulesetVersion, priceBookVersionId: versionId } = revision;
  const inputs = pricingInputsSchema.parse(revision.inputs);
  const { option } = pricedAgain({ inputs, rulesetVersion, optionAt: position - 1 });
  const sold = option.lines.filter(({ kind }) => kind === 'part' || kind === 'good');
  const parts = await tx.priceBookPart.findMany({
    where: { versionId, code: { in: sold.map(({ code }) => code) } },
    select: { code: true, category: true },
  });
  const kinds = new Map(parts.map((part) => [part.code, partCategorySchema.parse(part.category)]));
  return { inputs, lines: option.lines, kindOf: (code) => kinds.get(code) };
}

function feeLines(source: { inputs: PricingInputs; rulesetVersion: string }): SpokenLines {
  const { decline } = pricedAgain({ ...source, optionAt: 0 });
  return { inputs: source.inputs, lines: decline.lines, kindOf: () => undefined };
}
