import type { TicketFacts } from './facts.ts';
import { feltHeat } from './felt-heat.ts';
import { type Rank, type Reason, reasonsFor } from './reasons.ts';

/** Where a waiting ticket stands among the others, and why. */
export interface Priority {
  /** 1 comes first. */
  rank: Rank;
  /** Within a rank the higher comes first. In minutes of waiting. */
  score: number;
  reasons: readonly Reason[];
  /** Why, in one sentence. */
  sentence: string;
}

/** How long a ticket waits in its rank before it comes one rank earlier; never to the first. */
const RISES_AFTER_MINUTES: Record<Rank, number> = {
  1: Number.POSITIVE_INFINITY,
  2: Number.POSITIVE_INFINITY,
  3: 24 * 60,
  4: 2 * 24 * 60,
  5: 14 * 24 * 60,
};

/** What counts within a rank besides waiting, as minutes of it: common practice, no source. */
const AGREEMENT_MINUTES = 120;
const VULNERABLE_MINUTES = 240;
const MINUTES_PER_DEG_F_ABOVE_80 = 10;

/**
 * Ranks a waiting ticket: the most urgent of its reasons decides, and long waiting raises it by one
 * rank where it is for us to come. Danger, heat, people and waiting only ever bring a ticket forward.
 */
export function rankTicket(facts: TicketFacts): Priority {
  const reasons = reasonsFor(facts);
  const [first] = reasons;
  const hasRisen = facts.isOurTurn && facts.waitingMinutes >= RISES_AFTER_MINUTES[first.rank];
  return {
    rank: hasRisen ? earlier(first.rank) : first.rank,
    score: scoreOf(facts),
    reasons,
    sentence: sentenceOf(first, facts, hasRisen),
  };
}

/** Orders tickets: the earlier rank first, within it the higher score. */
export function byPriority(
  a: Pick<Priority, 'rank' | 'score'>,
  b: Pick<Priority, 'rank' | 'score'>,
): number {
  return a.rank - b.rank || b.score - a.score;
}

function earlier(rank: Rank): Rank {
  const before: Record<Rank, Rank> = { 1: 1, 2: 2, 3: 2, 4: 3, 5: 4 };
  return before[rank];
}

function scoreOf({
  isOurTurn,
  waitingMinutes,
  hasAgreement,
  vulnerable,
  indoor,
  outdoor,
}: TicketFacts): number {
  const air = indoor ?? outdoor;
  const heatDegF = air === null ? 0 : Math.max(0, feltHeat(air).degF - 80);
  return Math.round(
    (isOurTurn ? waitingMinutes : 0) +
      (hasAgreement ? AGREEMENT_MINUTES : 0) +
      (vulnerable !== null && vulnerable.length > 0 ? VULNERABLE_MINUTES : 0) +
      heatDegF * MINUTES_PER_DEG_F_ABOVE_80,
  );
}

function sentenceOf({ says }: Reason, facts: TicketFacts, hasRisen: boolean): string {
  const parts = [says, ...(facts.hasAgreement ? ['under an agreement'] : [])];
  const waited = `waiting ${waitText(facts.waitingMinutes)}${hasRisen ? ', so it comes a rank earlier' : ''}`;
  const text = [...parts, waited].join('; ');
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;
}

function waitText(minutes: number): string {
  if (minutes < 60) return `${Math.floor(minutes)} min`;
  if (minutes < 48 * 60) return `${Math.floor(minutes / 60)} h`;
  return `${Math.floor(minutes / (24 * 60))} days`;
}
