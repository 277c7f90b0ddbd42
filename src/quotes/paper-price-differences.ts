import { z } from 'zod';
import type { PricedQuote, PricingInputs } from '../pricing/index.ts';
import { taskCodeSchema, taskWords } from '../trade/index.ts';
import { paperPrices } from './compose-paper.ts';
import { type JsonDifference, jsonDifferences } from './json-differences.ts';

/**
 * Every place in which what a frozen paper says of prices is not what a paper made now of the same
 * price would say: titles, lines with their words, quantities, prices and reasons, taxes, totals,
 * and what a no costs.
 * @returns undefined when the paper cannot be read
 */
export function paperPriceDifferences(
  paper: unknown,
  quote: PricedQuote,
  inputs: PricingInputs,
): JsonDifference[] | undefined {
  const read = paperSchema.safeParse(paper);
  if (!read.success) return undefined;
  const now = paperPrices(quote, inputs, titlesOf(inputs));
  return withoutMachines(jsonDifferences('', read.data, now));
}

const paperSchema = z.object({
  options: z.array(z.looseObject({ prices: z.looseObject({ groups: z.array(z.unknown()) }) })),
  decline: z.looseObject({}),
});

function titlesOf({ options }: PricingInputs): Map<string, string> {
  const work = options.flatMap((option) => option.work);
  return new Map(
    work.flatMap(({ findingId, taskCode }) => {
      const known = taskCodeSchema.safeParse(taskCode);
      return known.success ? [[findingId, taskWords[known.data].name] as const] : [];
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
