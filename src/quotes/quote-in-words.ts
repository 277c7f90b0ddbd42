import { dollarsText, whyInWords, whyNodeInWords } from '../pricing/index.ts';
import type { QuoteWhy } from './why-contract.ts';

/**
 * Why a quote costs what it costs, as one indented text to follow with a pencil. It holds what the
 * reasons hold that it is given: costs only where they are the owner's.
 */
export function quoteInWords({
  number,
  revision,
  rulesetVersion,
  laborRate,
  options,
  decline,
}: QuoteWhy): string {
  const lines = [
    `Quote ${number}, revision ${revision}: why each price. Rules: ${rulesetVersion}.`,
    'Amounts are exact until a step says that it is rounded; what stands behind ~ is rounded',
    'for reading only.',
    '',
    `Labor rate: ${dollarsText(laborRate.cents)} an hour`,
    ...beneath(whyInWords(laborRate.why)),
    ...options.flatMap(optionInWords),
    '',
    `If the work is declined: ${dollarsText(decline.totalCents)}`,
    ...explainedInWords(decline),
  ];
  return `${lines.join('\n')}\n`;
}

function optionInWords(option: QuoteWhy['options'][number]): string[] {
  const { position, title, totalCents, companyUseTax } = option;
  return [
    '',
    `Option ${position}, ${title}: ${dollarsText(totalCents)}`,
    ...explainedInWords(option),
    ...(companyUseTax === undefined
      ? []
      : [
          '',
          `For the owner: tax the company owes on its materials: ${dollarsText(companyUseTax.cents)}`,
          ...beneath(whyNodeInWords(companyUseTax.why)),
        ]),
  ];
}

function explainedInWords({ lines, total, taxed }: QuoteWhy['decline']): string[] {
  return [
    ...lines.flatMap(({ position, description, amountCents, why }) => [
      '',
      `${position}. ${description}: ${dollarsText(amountCents)}`,
      ...beneath(whyInWords(why)),
    ]),
    '',
    'The sums:',
    ...beneath([...taxed.flatMap(whyNodeInWords), ...whyNodeInWords(total)]),
  ];
}

function beneath(lines: readonly string[]): string[] {
  return lines.map((line) => `   ${line}`);
}
