/** How a place calls again: our own work on the last day of its warranty, or a part long after it. */
export type ComesBack = 'recall' | 'failed_again';

/** Places that are to call again on a day. */
export interface Returns {
  add(day: string, place: number, how: ComesBack): void;
  /** One that is due on that day, of those that `suits`, and not due any more. */
  take(
    day: string,
    suits: (place: number, how: ComesBack) => boolean,
  ): { place: number; how: ComesBack } | undefined;
}

/** Days are taken in their order; those before one that was asked for are forgotten. */
export function newReturns(): Returns {
  const byDay = new Map<string, { place: number; how: ComesBack }[]>();
  let newest = '';
  const forgetBefore = (day: string) => {
    if (day <= newest) return;
    newest = day;
    for (const known of byDay.keys()) if (known < day) byDay.delete(known);
  };
  return {
    add: (day, place, how) => {
      const due = byDay.get(day);
      if (due === undefined) byDay.set(day, [{ place, how }]);
      else due.push({ place, how });
    },
    take: (day, suits) => {
      forgetBefore(day);
      const due = byDay.get(day) ?? [];
      const at = due.findIndex(({ place, how }) => suits(place, how));
      return at < 0 ? undefined : due.splice(at, 1)[0];
    },
  };
}
