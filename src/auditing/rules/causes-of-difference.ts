import {
  dollarsText,
  laborRateCents,
  minutesText,
  type PricingInputs,
  percentText,
} from '../../pricing/index.ts';
import type { PricedDocument } from '../jobs/prices-of.ts';
import { sameTerms } from '../jobs/same-terms.ts';
import { codeText } from './code-text.ts';

/**
 * Which figures make a charge dearer than the price book in force has it, each beside the book's, in
 * words without a full stop. Empty where none of them does by itself.
 */
export function causesOfDifference(
  key: string,
  stored: PricedDocument,
  book: PricedDocument,
): string[] {
  if (key.startsWith('labor:')) {
    const [minutes, fair] = [stored, book].map(({ inputs }) => workOf(key, inputs)?.minutes);
    const causes = [...ofMinutes(minutes, fair), ...ofTime(stored.inputs, book.inputs)];
    // Whether a labor is a second task shows where nothing else makes it dearer.
    return causes.length > 0 ? causes : ofSecond(stored.inputs, book.inputs);
  }
  if (key.startsWith('access:')) {
    const [minutes, fair] = [stored, book].map(({ accessMinutes }) => accessMinutes.get(key) ?? 0);
    return [...ofMinutes(minutes, fair), ...ofTime(stored.inputs, book.inputs)];
  }
  return [...ofCost(key, stored.inputs, book.inputs), ...ofTiers(key, stored.inputs, book.inputs)];
}

function ofMinutes(minutes = 0, fair = 0): string[] {
  return minutes > fair ? [`${minutesText(minutes)} where the book has ${fair}`] : [];
}

/** What an hour costs, and the hours that it is in. */
function ofTime(stored: PricingInputs, book: PricingInputs): string[] {
  const [rate, fairRate] = [stored, book].map(({ rates }) => laborRateCents(rates));
  const { code, laborFactor } = stored.period;
  const fairFactor = book.period.laborFactor;
  return [
    ...(rate !== undefined && fairRate !== undefined && rate > fairRate
      ? [`${dollarsText(rate)} an hour where the book has ${dollarsText(fairRate)}`]
      : []),
    ...(Number(laborFactor) > Number(fairFactor)
      ? [
          `the ${codeText(code)} factor of ${laborFactor} where the hours agreed to have ${fairFactor}`,
        ]
      : []),
  ];
}

function ofSecond(stored: PricingInputs, book: PricingInputs): string[] {
  const [share, fair] = [stored, book].map(({ policy }) => policy.secondTaskDiscount);
  if (share === undefined || fair === undefined || Number(share) >= Number(fair)) return [];
  return [`${percentText(share)} off second tasks where the book has ${percentText(fair)}`];
}

function ofCost(key: string, stored: PricingInputs, book: PricingInputs): string[] {
  const [cost, fair] = [costOf(key, stored), costOf(key, book)];
  if (cost === undefined || fair === undefined || cost <= fair) return [];
  return [`a cost of ${dollarsText(cost)} where the book has ${dollarsText(fair)}`];
}

function ofTiers(key: string, stored: PricingInputs, book: PricingInputs): string[] {
  const isPart = key.startsWith('part:') || key.startsWith('good:');
  return isPart && !sameTerms(stored.tiers, book.tiers) ? ['other factors on parts'] : [];
}

/** Of one piece, or of a pack. */
function costOf(key: string, inputs: PricingInputs) {
  const code = key.slice(key.lastIndexOf(':') + 1);
  const { parts = [], goods = [] } = workOf(key, inputs) ?? {};
  return (
    parts.find((part) => part.code === code)?.unitCostCents ??
    goods.find((good) => good.code === code)?.packCostCents
  );
}

/** The work whose finding and task a key names. */
function workOf(key: string, { options }: PricingInputs) {
  const [, finding, task] = key.split(':');
  return options
    .flatMap(({ work }) => work)
    .find(({ findingId, taskCode }) => findingId === finding && taskCode === task);
}
