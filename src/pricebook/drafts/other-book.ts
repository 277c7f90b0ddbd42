import { cents, type OtherBook } from '../../pricing/index.ts';
import type { BookContent } from '../contract.ts';

/** A price book as the engine prices stored work under it. */
export function otherBook(content: BookContent): OtherBook {
  const { rates, tiers, policy, periods, tasks, parts, agreements } = content;
  return {
    rates,
    tiers,
    policy,
    periods: byCode(periods),
    tasks: byCode(tasks),
    parts: byCode(
      parts.map((part) => ({
        code: part.code,
        name: part.name,
        costCents: cents(part.costCents),
        taxClass: part.taxClass,
        warranted: part.warrantyClass !== 'none',
        ...(part.measured && { measured: part.measured }),
      })),
    ),
    agreements: byCode(agreements.map(({ code, name, discounts }) => ({ code, name, discounts }))),
  };
}

function byCode<Entry extends { code: string }>(entries: readonly Entry[]): Map<string, Entry> {
  return new Map(entries.map((entry) => [entry.code, entry]));
}
