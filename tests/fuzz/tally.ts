/** What became of the requests to one operation. */
export interface Tally {
  requests: number;
  /** Those that were meant to succeed, by somebody who may. */
  meant: number;
  succeeded: number;
  statuses: Map<number, number>;
  /** Why its state could not be brought about, the last time. */
  unprepared: string | undefined;
}

export function newTally(): Tally {
  return { requests: 0, meant: 0, succeeded: 0, statuses: new Map(), unprepared: undefined };
}

/** Below this share of successes an operation was only knocked at. */
export const SHARE_MIN = 0.2;

/** Of the requests that were meant to succeed, how many did. */
export function shareOf({ meant, succeeded }: Tally): number {
  return meant === 0 ? 0 : succeeded / meant;
}

/** What became of each operation, worst first. */
export function tableOf(tallies: ReadonlyMap<string, Tally>): string {
  return [...tallies]
    .sort(([, one], [, other]) => shareOf(one) - shareOf(other))
    .map(([operationId, tally]) => lineOf(operationId, tally))
    .join('\n');
}

function lineOf(operationId: string, tally: Tally): string {
  const share = `${Math.round(shareOf(tally) * 100)} %`.padStart(6);
  const statuses = [...tally.statuses]
    .sort(([one], [other]) => one - other)
    .map(([status, count]) => `${status}:${count}`);
  const { requests, unprepared } = tally;
  const why = unprepared === undefined ? '' : `  (not prepared: ${unprepared.slice(0, 300)})`;
  return `${operationId.padEnd(26)} ${String(requests).padStart(5)} ${share}  ${statuses.join(' ')}${why}`;
}
