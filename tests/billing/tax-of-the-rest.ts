import type { HandInputs, HandWork } from '../pricing/oracle/hand-inputs.ts';
import { decimal, halfUp, times, whole } from '../pricing/oracle/rational.ts';

/*
 * The tax of what is left of a document, reckoned a second time from the words alone: the rate on
 * the classes that are taxed, line by line or once for the document, an exact half cent up; under
 * a lump sum none. Nothing here is taken from the program.
 */

export interface LawLine {
  readonly key: string;
  readonly kind: string;
  readonly priceClass: string;
  readonly aimedAt: string | null;
  readonly amountCents: number;
}

export interface TaxedAs {
  readonly tax: HandInputs['tax'];
  readonly stated: 'separated' | 'lump_sum';
  readonly work: readonly HandWork[];
}

/** What stands of each charge after all that is aimed at it and after what is given back. */
export function netsOf(
  lines: readonly LawLine[],
  givenBack: ReadonlyMap<string, number> = new Map(),
): Map<string, number> {
  const nets = new Map<string, number>();
  for (const { key, kind, aimedAt, amountCents } of lines) {
    if (kind === 'tax') continue;
    const charge = aimedAt ?? key;
    nets.set(charge, (nets.get(charge) ?? 0) + amountCents);
  }
  for (const [key, amountCents] of givenBack) nets.set(key, (nets.get(key) ?? 0) - amountCents);
  return nets;
}

export function taxOfTheRest(
  nets: ReadonlyMap<string, number>,
  { tax, stated, work }: TaxedAs,
): number {
  if (stated === 'lump_sum') return 0;
  const classes: readonly string[] = tax.taxableClasses;
  const taxed = [...nets].filter(([key]) => classes.includes(taxClassOf(key, work)));
  const amounts = taxed.map(([, net]) => net);
  const bases = tax.basis === 'item' ? amounts : [amounts.reduce((sum, net) => sum + net, 0)];
  const rate = decimal(tax.rate);
  return bases.reduce((sum, base) => sum + Number(halfUp(times(whole(base), rate))), 0);
}

/** The book may class a part or a good as material or equipment; the key says which one it is. */
function taxClassOf(key: string, work: readonly HandWork[]): string {
  const [kind = '', findingId, , code] = key.split(':');
  if (kind !== 'part' && kind !== 'good') return kind;
  const item = work.find((each) => each.findingId === findingId);
  const goods = [...(item?.parts ?? []), ...(item?.goods ?? [])];
  return goods.find((each) => each.code === code)?.taxClass ?? 'part';
}
