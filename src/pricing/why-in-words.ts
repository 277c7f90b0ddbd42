import { decimalText } from './decimal-text.ts';
import type { Ratio } from './ratio.ts';
import type { Why, WhyNode, WhyUnit } from './why.ts';
import type { CustomerWhy } from './why-for-customer.ts';
import { dollarsText, groupThousands, measuredText, minutesText, percentText } from './words.ts';

/**
 * Why a line has its amount, as lines of text that a person with a pencil can follow: the sentence,
 * then each step with what it stands on beneath it, two spaces further in. What the owner may see
 * follows only where the reasons have it.
 *
 * A value that ends within eight digits is written out. Any other stands as a reduced fraction of
 * cents, which is exact, with a decimal behind `~`, which is not.
 *
 *     - minutes / 60 x rate x factor = $75.485, rounded half up to $75.49
 *     - cost per billable hour = 3,695,761/288 cents an hour ~ $128.3250 an hour
 */
export function whyInWords(why: Why | CustomerWhy): string[] {
  const owner = 'owner' in why ? why.owner : [];
  return [
    why.sentence,
    ...why.steps.flatMap(whyNodeInWords),
    ...(owner.length === 0 ? [] : ['For the owner:', ...owner.flatMap(whyNodeInWords)]),
  ];
}

/** One node and all beneath it, as lines of text. */
export function whyNodeInWords(node: WhyNode): string[] {
  const beneath = node.node === 'input' ? [] : node.from.flatMap(whyNodeInWords);
  return [`- ${sayNode(node)}`, ...beneath.map((line) => `  ${line}`)];
}

function sayNode(node: WhyNode): string {
  switch (node.node) {
    case 'input':
      return `${node.name}: ${sayInput(node.value, node.unit)}`;
    case 'step':
      return `${node.name} = ${sayExact(node.exact, node.unit)}`;
    case 'rounding':
      return `${node.name} = ${sayExact(node.exact, 'cents')}, rounded half up to ${dollarsText(node.cents)}`;
  }
}

function sayInput(value: string, unit: WhyUnit): string {
  switch (unit) {
    case 'cents':
      return dollarsText(Number(value));
    case 'cents_per_hour':
      return `${dollarsText(Number(value))} an hour`;
    case 'minutes':
      return minutesText(Number(value));
    case 'hours':
      return `${groupThousands(value)} hours`;
    case 'count':
      return value;
    case 'ratio':
      return value.startsWith('0.') ? `${value} (${percentText(value)})` : value;
    default:
      return measuredText(value, unit);
  }
}

function sayExact(fraction: string, unit: WhyUnit): string {
  const [numerator = '', denominator = ''] = fraction.split('/');
  const exact = reduced({ numerator: BigInt(numerator), denominator: BigInt(denominator) });
  if (unit === 'cents') return sayCents(exact, '');
  if (unit === 'cents_per_hour') return sayCents(exact, ' an hour');
  const whole = decimalText(exact, DIGITS_WRITTEN_OUT);
  if (whole.isExact) return sayInput(withoutEndingZeros(whole.text, 0), unit);
  return `${sayFraction(exact)} ~ ${sayInput(decimalText(exact, DIGITS_OF_ROUNDED).text, unit)}`;
}

function sayCents(exactCents: Ratio, per: string): string {
  const { numerator, denominator } = exactCents;
  const dollars = { numerator, denominator: denominator * 100n };
  const whole = decimalText(dollars, DIGITS_WRITTEN_OUT);
  if (whole.isExact) return `${sayDollars(withoutEndingZeros(whole.text, 2))}${per}`;
  const near = decimalText(dollars, DIGITS_OF_ROUNDED).text;
  return `${sayFraction(exactCents)} cents${per} ~ ${sayDollars(near)}${per}`;
}

/** Tax on cents at a rate of six digits ends here; so does whatever else people multiply by hand. */
const DIGITS_WRITTEN_OUT = 8;
const DIGITS_OF_ROUNDED = 4;

/** '-1234.5' -> '-$1,234.5'. */
function sayDollars(decimal: string): string {
  const sign = decimal.startsWith('-') ? '-' : '';
  const [whole = '', digits = ''] = decimal.slice(sign.length).split('.');
  return `${sign}$${groupThousands(whole)}.${digits}`;
}

function sayFraction({ numerator, denominator }: Ratio): string {
  const sign = numerator < 0n ? '-' : '';
  const positive = numerator < 0n ? -numerator : numerator;
  return `${sign}${groupThousands(String(positive))}/${groupThousands(String(denominator))}`;
}

/** '75.4850' with at least 2 digits -> '75.485'; '75.0000' -> '75.00'. */
function withoutEndingZeros(decimal: string, digitsMin: number): string {
  const [whole = '', digits = ''] = decimal.split('.');
  const kept = digits.replace(/0+$/, '').padEnd(digitsMin, '0');
  return kept === '' ? whole : `${whole}.${kept}`;
}

function reduced({ numerator, denominator }: Ratio): Ratio {
  const divisor = greatestCommonDivisor(numerator < 0n ? -numerator : numerator, denominator);
  return { numerator: numerator / divisor, denominator: denominator / divisor };
}

function greatestCommonDivisor(a: bigint, b: bigint): bigint {
  let [larger, smaller] = [a, b];
  while (smaller !== 0n) [larger, smaller] = [smaller, larger % smaller];
  return larger;
}
