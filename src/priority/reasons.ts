import type { TicketFacts } from './facts.ts';
import { type FeltHeat, feltHeat } from './felt-heat.ts';

/** 1 comes first. */
export type Rank = 1 | 2 | 3 | 4 | 5;

/** Why a ticket comes early or late. */
export interface Reason {
  code: string;
  rank: Rank;
  /** Part of a sentence, with its figures. */
  says: string;
}

/** At this temperature indoors people whom heat harms first are in danger: common practice, no source. */
const HOT_INDOORS_DEG_F = 90;
/** Below this a house is too cold for them, and pipes are next: common practice, no source. */
const COLD_INDOORS_DEG_F = 55;

type Rule = (facts: TicketFacts) => Reason | undefined;

/**
 * Every rule that ranks a ticket, the most urgent first. The groups of people and the thirds of the
 * heat index are those of the National Weather Service; what comes before what is common practice.
 */
const rules: readonly Rule[] = [
  ({ danger }) =>
    danger === null
      ? undefined
      : reason('danger', 1, `danger: ${danger}; nobody goes before it is safe`),
  (facts) => {
    const people = harmedFirst(facts);
    if (!facts.noCooling || people === undefined || !isHotIndoors(facts)) return undefined;
    return reason('hot_and_vulnerable', 1, `no cooling, ${indoors(facts)}, and ${people}`);
  },
  (facts) => {
    const people = harmedFirst(facts);
    const isStuck =
      facts.hasCoolerPlace === false && (facts.indoor === null || isHotIndoors(facts));
    if (!facts.noCooling || people === undefined || !isStuck) return undefined;
    return reason('nowhere_cooler', 1, `no cooling, ${people}, and nowhere cooler to go`);
  },
  (facts) => {
    const people = harmedFirst(facts);
    const isCold = facts.indoor !== null && facts.indoor.tempDegF < COLD_INDOORS_DEG_F;
    if (!facts.noHeating || people === undefined || !isCold) return undefined;
    return reason('cold_and_vulnerable', 1, `no heating, ${indoors(facts)}, and ${people}`);
  },
  (facts) => {
    const felt = facts.indoor && feltHeat(facts.indoor);
    const isDangerous = felt?.category === 'danger' || felt?.category === 'extreme_danger';
    if (!facts.noCooling || !isDangerous) return undefined;
    return reason('dangerous_heat', 1, `no cooling and ${indoors(facts)}, dangerous for anybody`);
  },
  ({ waterSpreading }) =>
    waterSpreading ? reason('water_spreading', 2, 'water is spreading') : undefined,
  (facts) => {
    const people = harmedFirst(facts);
    if (people === undefined || !(facts.noCooling || facts.noHeating)) return undefined;
    return reason('vulnerable', 2, `${what(facts)}, and ${people}`);
  },
  (facts) =>
    facts.noCooling && isHotIndoors(facts)
      ? reason('hot', 2, `no cooling and ${indoors(facts)}`)
      : undefined,
  (facts) => {
    const felt = facts.indoor === null && facts.outdoor ? feltHeat(facts.outdoor) : undefined;
    const isDangerous = felt?.category === 'danger' || felt?.category === 'extreme_danger';
    if (!facts.noCooling || felt === undefined || !isDangerous) return undefined;
    return reason('hot_outdoors', 2, `no cooling and outdoors it ${feels(felt)}`);
  },
  ({ isCallback }) =>
    isCallback ? reason('callback', 3, 'the same trouble is back after our repair') : undefined,
  ({ isPromiseOverdue }) =>
    isPromiseOverdue
      ? reason('promise_overdue', 3, 'the day promised for the part is over')
      : undefined,
  (facts) =>
    facts.noCooling || facts.noHeating ? reason('nothing_works', 3, what(facts)) : undefined,
];

/** All that holds for a ticket, the most urgent first; where nothing does, what kind of work it is. */
export function reasonsFor(facts: TicketFacts): [Reason, ...Reason[]] {
  const [first, ...others] = rules.flatMap((rule) => rule(facts) ?? []);
  return first === undefined ? [byKind(facts)] : [first, ...others];
}

function byKind({ kind }: TicketFacts): Reason {
  return kind === 'repair'
    ? reason('repair', 4, 'nothing says that it is down')
    : reason('maintenance', 5, 'maintenance is due');
}

function reason(code: string, rank: Rank, says: string): Reason {
  return { code, rank, says };
}

function what({ noCooling, noHeating }: TicketFacts): string {
  if (noCooling && noHeating) return 'neither cooling nor heating';
  return noCooling ? 'no cooling' : 'no heating';
}

function harmedFirst({ vulnerable }: TicketFacts): string | undefined {
  if (vulnerable === null || vulnerable.length === 0) return undefined;
  return `${vulnerable.join(', ')} at home`;
}

function isHotIndoors({ indoor }: TicketFacts): boolean {
  return indoor !== null && feltHeat(indoor).degF >= HOT_INDOORS_DEG_F;
}

function indoors({ indoor }: TicketFacts): string {
  if (indoor === null) return 'indoors unknown';
  const felt = feltHeat(indoor);
  const plain = `${Math.round(indoor.tempDegF)} °F indoors`;
  if (felt.basis === 'temperature') return `${plain} (humidity unknown)`;
  return felt.degF > indoor.tempDegF ? `${plain} that ${feels(felt)}` : plain;
}

function feels({ degF, basis }: FeltHeat): string {
  const shown = `${Math.round(degF)} °F`;
  return basis === 'heat_index' ? `feels like ${shown}` : `is ${shown} (humidity unknown)`;
}
