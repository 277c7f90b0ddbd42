import { z } from 'zod';
import type { PaperLanguage } from '../documents/index.ts';
import type { PricedQuote, PricingInputs } from '../pricing/index.ts';
import { taskCodeSchema } from '../trade/index.ts';
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
    withoutMachines(
      jsonDifferences(
        place,
        stored,
        paperPrices(quote, inputs, titlesOf(inputs, language), language),
      ),
    );
  return [
    ...differencesIn('en', english, ''),
    ...(inSpanish === undefined ? [] : differencesIn('es', inSpanish, 'inSpanish')),
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
 * Where several machines are at hand a heading ends in the name of one. It was a machine's name on
 * that day, which is not part of the price, so what stands in the brackets is not compared.
 */
function withoutMachines(differences: JsonDifference[]): JsonDifference[] {
  return differences.filter(
    ({ what, stored, now }) =>
      !(what.endsWith('.heading') && stored.startsWith(`${now.slice(0, -1)} (`)),
  );
}
