import { canonicalJson } from '../platform/canonical-json.ts';
import { sha256 } from '../platform/sha256.ts';
import type { WorkDays } from '../workdays/index.ts';
import type { ChangedSince, PlanContent, RestsOn } from './contract.ts';

/** What a plan of a day rests on, as it is now. */
export function restsOn(
  { days, policy, withoutBase }: WorkDays,
  tickets: ReadonlyMap<string, { version: number }>,
): RestsOn {
  const live = days
    .flatMap(({ stops }) => stops.map(({ visit }) => visit))
    .filter(({ state }) => state !== 'finished');
  return {
    visits: Object.fromEntries(live.map(({ id, version }) => [id, version])),
    tickets: Object.fromEntries([...tickets].map(([id, { version }]) => [id, version])),
    hoursSha256: sha256(canonicalJson({ crews: days.map(({ crew }) => crew), withoutBase })),
    policySha256: sha256(canonicalJson(policy)),
  };
}

/**
 * What is otherwise than a plan took it to be. Of the tickets only those count that it places:
 * others may come and go.
 */
export function changedSince(
  then: RestsOn,
  today: RestsOn,
  { shifted, reassigned, placed }: PlanContent,
  now: Date,
): ChangedSince[] {
  const isOver = [...shifted, ...reassigned].filter(({ planned }) => new Date(planned.start) < now);
  return [
    ...comparedVisits(then.visits, today.visits),
    ...placed
      .filter(({ ticketId: id }) => today.tickets[id] !== then.tickets[id])
      .map(({ ticketId: id }) => ({
        ...{ kind: 'ticket' as const, id },
        what: today.tickets[id] === undefined ? ('gone' as const) : ('changed' as const),
      })),
    ...(then.hoursSha256 === today.hoursSha256 ? [] : [ofAll('hours')]),
    ...(then.policySha256 === today.policySha256 ? [] : [ofAll('policy')]),
    ...isOver.map(({ visitId: id }) => ({ kind: 'time' as const, id, what: 'passed' as const })),
  ];
}

type Versions = Readonly<Record<string, number>>;

function comparedVisits(then: Versions, today: Versions): ChangedSince[] {
  const ids = [...new Set([...Object.keys(then), ...Object.keys(today)])].sort();
  return ids.flatMap((id): ChangedSince[] => {
    const [before, after] = [then[id], today[id]];
    if (before === after) return [];
    const what = before === undefined ? 'new' : after === undefined ? 'gone' : 'changed';
    return [{ kind: 'visit', id, what }];
  });
}

function ofAll(kind: 'hours' | 'policy'): ChangedSince {
  return { kind, id: null, what: 'changed' };
}
