import { z } from 'zod';
import type { PaperLanguage } from '../documents/index.ts';
import type { PricedQuote, PricingInputs } from '../pricing/index.ts';
import { partCategorySchema, taskCodeSchema } from '../trade/index.ts';
import { inWordsOfToday } from './in-words-of-today.ts';
import { type JsonDifference, jsonDifferences } from './json-differences.ts';
import { paperPrices } from './paper-prices.ts';
import { paperWords } from './paper-words.ts';

/**
 * Every place in which what a frozen paper says of prices is not what a paper made now of the same
 * price would say: titles, lines with their words, quantities, prices and reasons, taxes, totals,
 * and what a no costs, in each language it was issued in. Papers of a time with one language have
 * no Spanish.
 * @returns undefined when the paper cannot be read
 */
export function paperPriceDifferences(
  paper: unknown,
  quote: PricedQuote,
  inputs: PricingInputs,
): JsonDifference[] | undefined {
  const read = issuedSchema.safeParse(paper);
  if (!read.success) return undefined;
  const { inSpanish, ...english } = read.data;
  const differencesIn = (language: PaperLanguage, stored: PaperPrices, place: string) =>
    withoutNames(
      jsonDifferences(
        place,
        stored,
        paperPrices(quote, inputs, { work: titlesOf(inputs, language) }, language),
      ),
    );
  return [
    ...differencesIn('en', english, ''),
    ...(inSpanish === undefined
      ? []
      : withoutRewording(differencesIn('es', inSpanish, 'inSpanish'))),
  ];
}

const pricesSchema = z.object({
  options: z.array(z.looseObject({ prices: z.looseObject({ groups: z.array(z.unknown()) }) })),
  decline: z.looseObject({}),
});
type PaperPrices = z.infer<typeof pricesSchema>;

const issuedSchema = pricesSchema.extend({ inSpanish: pricesSchema.optional() });

function titlesOf({ options }: PricingInputs, language: PaperLanguage): Map<string, string> {
  const { taskName } = paperWords[language];
  const work = options.flatMap((option) => option.work);
  return new Map(
    work.flatMap(({ findingId, taskCode }) => {
      const known = taskCodeSchema.safeParse(taskCode);
      return known.success ? [[findingId, taskName(known.data)] as const] : [];
    }),
  );
}

/**
 * Without what is no part of the price: where several machines are at hand a heading ends in the
 * name that one had on that day; a Spanish paper has the kind of a part, which the price book
 * knows, in front of its English name; and one of an earlier time has a tax by its name alone.
 */
function withoutNames(differences: JsonDifference[]): JsonDifference[] {
  return differences.filter(
    ({ what, stored, now }) =>
      !(
        (what.endsWith('.heading') && stored.startsWith(`${now.slice(0, -1)} (`)) ||
        (what.endsWith('.description') && isNamedByKind(stored, now)) ||
        (what.endsWith('.label') && stored === now.replace(/Impuesto \((.+)\)(?=, )/, '$1'))
      ),
  );
}

/** Without what says the same in Spanish words of an earlier time. */
function withoutRewording(differences: JsonDifference[]): JsonDifference[] {
  return differences.filter(({ stored, now }) => {
    const today = `"${inWordsOfToday(stored.slice(1, -1))}"`;
    return today !== now && !isNamedByKind(today, now);
  });
}

/** 'Capacitor de marcha doble (Dual capacitor 45/5)' for what is 'Dual capacitor 45/5' now. */
function isNamedByKind(stored: string, now: string): boolean {
  const name = now.slice(1, -1);
  return partCategorySchema.options.some(
    (kind) => stored.slice(1, -1) === paperWords.es.partName(kind, name),
  );
}
