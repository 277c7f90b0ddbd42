import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { byPriority, rankTicket, type TicketFacts } from '../../src/priority/index.ts';

const quiet: TicketFacts = {
  kind: 'repair',
  danger: null,
  noCooling: false,
  noHeating: false,
  vulnerable: null,
  hasCoolerPlace: null,
  indoor: null,
  outdoor: null,
  waterSpreading: false,
  isCallback: false,
  isPromiseOverdue: false,
  hasAgreement: false,
  isOurTurn: true,
  waitingMinutes: 20,
};
const at = (tempDegF: number, relativeHumidityPercent: number | null = null) => {
  return { tempDegF, relativeHumidityPercent };
};

// Groups of people: National Weather Service, heat safety. 90 F indoors: common practice, no source.
// Heat indices: National Weather Service, SR 90-23; 96 F at 65 % feels like 121, 94 F at 80 % like 129.
describe('who comes first', () => {
  it.each<[string, Partial<TicketFacts>, number, string]>([
    [
      'a danger before everything, and nobody goes before it is safe',
      { danger: 'gas smell', kind: 'maintenance' },
      1,
      'Danger: gas smell; nobody goes before it is safe; waiting 20 min.',
    ],
    [
      'no cooling at 90 F with somebody whom heat harms first',
      { noCooling: true, vulnerable: ['a baby'], indoor: at(90) },
      1,
      'No cooling, 90 °F indoors (humidity unknown), and a baby at home; waiting 20 min.',
    ],
    [
      'the same at 89 F comes second',
      { noCooling: true, vulnerable: ['a baby'], indoor: at(89) },
      2,
      'No cooling, and a baby at home; waiting 20 min.',
    ],
    [
      '89 F of damp air feels hotter than 90',
      { noCooling: true, vulnerable: ['a baby'], indoor: at(89, 60) },
      1,
      'No cooling, 89 °F indoors that feels like 97 °F, and a baby at home; waiting 20 min.',
    ],
    [
      'dry air is not taken for cooler than it is',
      { noCooling: true, vulnerable: ['old people'], indoor: at(95, 10) },
      1,
      'No cooling, 95 °F indoors, and old people at home; waiting 20 min.',
    ],
    [
      'heat that the Weather Service calls dangerous, whoever is at home',
      { noCooling: true, vulnerable: [], indoor: at(96, 65) },
      1,
      'No cooling and 96 °F indoors that feels like 121 °F, dangerous for anybody; waiting 20 min.',
    ],
    [
      'somebody whom heat harms first and who has nowhere cooler to go',
      { noCooling: true, vulnerable: ['a baby'], hasCoolerPlace: false },
      1,
      'No cooling, a baby at home, and nowhere cooler to go; waiting 20 min.',
    ],
    [
      'no heating in a cold house with somebody whom cold harms first',
      { noHeating: true, vulnerable: ['old people'], indoor: at(54) },
      1,
      'No heating, 54 °F indoors (humidity unknown), and old people at home; waiting 20 min.',
    ],
    ['water that spreads', { waterSpreading: true }, 2, 'Water is spreading; waiting 20 min.'],
    [
      'no cooling at 90 F',
      { noCooling: true, vulnerable: [], indoor: at(90, 30) },
      2,
      'No cooling and 90 °F indoors; waiting 20 min.',
    ],
    [
      'no cooling on a dangerous day, where nobody told the temperature indoors',
      { noCooling: true, outdoor: at(94, 80) },
      2,
      'No cooling and outdoors it feels like 129 °F; waiting 20 min.',
    ],
    [
      'no cooling on a mild day',
      { noCooling: true, outdoor: at(79, 40) },
      3,
      'No cooling; waiting 20 min.',
    ],
    [
      'trouble that is back',
      { isCallback: true },
      3,
      'The same trouble is back after our repair; waiting 20 min.',
    ],
    [
      'a promise that was not kept',
      { isPromiseOverdue: true },
      3,
      'The day promised for the part is over; waiting 20 min.',
    ],
    [
      'what is not told to be down',
      { hasAgreement: true },
      4,
      'Nothing says that it is down; under an agreement; waiting 20 min.',
    ],
    ['maintenance', { kind: 'maintenance' }, 5, 'Maintenance is due; waiting 20 min.'],
  ])('%s', (_, facts, rank, sentence) => {
    expect(rankTicket({ ...quiet, ...facts })).toMatchObject({ rank, sentence });
  });

  it('by its kind alone only when nothing else holds', () => {
    const reasonsOf = (facts: Partial<TicketFacts>) =>
      rankTicket({ ...quiet, ...facts }).reasons.map(({ code }) => code);
    expect(reasonsOf({})).toEqual(['repair']);
    expect(reasonsOf({ kind: 'maintenance' })).toEqual(['maintenance']);
    expect(reasonsOf({ noCooling: true })).toEqual(['nothing_works']);
    expect(reasonsOf({ kind: 'maintenance', waterSpreading: true })).toEqual(['water_spreading']);
  });

  it.each([
    [{ noCooling: true }, 24 * 60 - 1, 3],
    [{ noCooling: true }, 24 * 60, 2],
    [{}, 2 * 24 * 60, 3],
    [{ kind: 'maintenance' as const }, 14 * 24 * 60, 4],
    [{ waterSpreading: true }, 90 * 24 * 60, 2],
    [{ noCooling: true, isOurTurn: false }, 90 * 24 * 60, 3],
  ])(
    'long waiting brings it one rank forward, never into the first: %j after %i min',
    (facts, waitingMinutes, rank) => {
      expect(rankTicket({ ...quiet, ...facts, waitingMinutes }).rank).toBe(rank);
    },
  );

  it('within a rank an agreement, people and heat count like waiting', () => {
    const [plain, agreed, people, heat] = [
      {},
      { hasAgreement: true },
      { vulnerable: ['a baby'] },
      { indoor: at(86) },
    ].map((facts) => rankTicket({ ...quiet, ...facts }));
    expect([plain?.score, agreed?.score, people?.score, heat?.score]).toEqual([20, 140, 260, 80]);
  });
});

describe('laws of the order', () => {
  const air = fc.option(
    fc.record({
      tempDegF: fc.integer({ min: 40, max: 115 }),
      relativeHumidityPercent: fc.option(fc.integer({ min: 0, max: 100 })),
    }),
  );
  const facts: fc.Arbitrary<TicketFacts> = fc.record({
    kind: fc.constantFrom('repair', 'maintenance'),
    danger: fc.option(fc.constant('gas smell')),
    noCooling: fc.boolean(),
    noHeating: fc.boolean(),
    vulnerable: fc.option(fc.subarray(['a baby', 'old people'])),
    hasCoolerPlace: fc.option(fc.boolean()),
    indoor: air,
    outdoor: air,
    waterSpreading: fc.boolean(),
    isCallback: fc.boolean(),
    isPromiseOverdue: fc.boolean(),
    hasAgreement: fc.boolean(),
    isOurTurn: fc.boolean(),
    waitingMinutes: fc.integer({ min: 0, max: 50_000 }),
  });
  const worse: Record<string, (before: TicketFacts) => TicketFacts> = {
    danger: (before) => ({ ...before, danger: 'smoke' }),
    'no cooling': (before) => ({ ...before, noCooling: true }),
    water: (before) => ({ ...before, waterSpreading: true }),
    people: (before) => ({ ...before, vulnerable: ['a baby', 'old people'] }),
    'a promise not kept': (before) => ({ ...before, isPromiseOverdue: true }),
    'nowhere cooler to go': (before) => ({ ...before, hasCoolerPlace: false }),
    'our turn': (before) => ({ ...before, isOurTurn: true }),
    'an agreement': (before) => ({ ...before, hasAgreement: true }),
    waiting: (before) => ({ ...before, waitingMinutes: before.waitingMinutes + 600 }),
    'a hotter room of unknown humidity': (before) =>
      before.indoor === null || before.indoor.tempDegF < 60
        ? before
        : {
            ...before,
            indoor: {
              tempDegF: before.indoor.tempDegF + 5,
              relativeHumidityPercent: null,
            },
          },
  };

  it.each(Object.keys(worse))('%s never puts a ticket back', (what) => {
    fc.assert(
      fc.property(facts, (before) => {
        const start: TicketFacts =
          what.startsWith('a hotter') && before.indoor !== null
            ? { ...before, indoor: { ...before.indoor, relativeHumidityPercent: null } }
            : before;
        const after = worse[what]?.(start) ?? start;
        expect(byPriority(rankTicket(after), rankTicket(start))).toBeLessThanOrEqual(0);
      }),
    );
  });

  it('the order is total, and the same facts say the same', () => {
    fc.assert(
      fc.property(facts, facts, facts, (a, b, c) => {
        const [x, y, z] = [a, b, c].map(rankTicket);
        if (x === undefined || y === undefined || z === undefined) return;
        expect(byPriority(x, y) + byPriority(y, x)).toBe(0);
        if (byPriority(x, y) <= 0 && byPriority(y, z) <= 0) {
          expect(byPriority(x, z)).toBeLessThanOrEqual(0);
        }
        expect(rankTicket(a)).toEqual(x);
      }),
    );
  });
});
