import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  plotBands,
  plotFunnel,
  plotPrices,
  plotTrend,
  svgOfPlot,
} from '../../src/documents/index.ts';
import { createMeasureText } from '../../src/documents/measure-text.ts';
import type { PlainInk } from '../../src/documents/page-plan.ts';
import { percent } from '../../src/documents/plots/percent.ts';
import type { FunnelData } from '../../src/documents/plots/plot-funnel.ts';
import { priceTicks } from '../../src/documents/plots/price-ticks.ts';
import { shareTicks, ticksTo } from '../../src/documents/plots/ticks.ts';

const measure = createMeasureText();

const person = (name: string, count: number, trials: number, asksForLook = false) => ({
  ...{ name, count, trials, asksForLook },
});

/** Six technicians; the edges are made up, for nothing here computes them. */
const six: FunnelData = {
  title: 'Resets billed as repairs, by technician',
  subject: 'Technician',
  trials: 'Jobs',
  measure: 'Resets billed as repairs',
  share: 35 / 244,
  points: [
    person('A', 2, 40),
    person('B', 5, 38),
    person('C', 3, 44),
    person('D', 12, 36, true),
    person('E', 4, 41),
    person('F', 9, 45),
  ],
  edges: [20, 30, 40, 50, 60].map((trials) => ({
    trials,
    inner: [0.02, 0.14 + 2 / trials] as const,
    outer: [0, 0.14 + 4 / trials] as const,
  })),
};

const dots = (inks: readonly PlainInk[]) =>
  inks.flatMap((ink) => (ink.kind === 'circle' ? [ink.centerPt] : []));
const diamonds = (inks: readonly PlainInk[]) =>
  inks.flatMap((ink) => (ink.kind === 'polygon' ? [ink.pointsPt] : []));

describe('a funnel', () => {
  const plot = plotFunnel(six, measure);

  it('marks with a diamond whoever asks for a look, and with a dot everybody else', () => {
    expect(dots(plot.inks)).toHaveLength(5);
    expect(diamonds(plot.inks)).toHaveLength(1);
  });

  it('puts each to the right of whoever has fewer jobs, and above whoever has a smaller share', () => {
    const [a, b, c, e, f] = dots(plot.inks);
    const xs = [b, a, e, c, f].map((dot) => dot?.[0] ?? Number.NaN);
    expect(xs).toEqual([...xs].sort((one, other) => one - other));
    // Downward on the page: 20 % of F, 13.2 % of B, 9.8 % of E, 6.8 % of C, 5 % of A.
    const ys = [f, b, e, c, a].map((dot) => dot?.[1] ?? Number.NaN);
    expect(ys).toEqual([...ys].sort((one, other) => one - other));
  });

  it('stands on one scale: as far from 5 to 10 jobs of a hundred as from 10 to 15', () => {
    const at = (count: number) => {
      const points = [person('one', count, 100), person('most', 40, 100)];
      return dots(plotFunnel({ ...six, points }, measure).inks)[0]?.[1] ?? Number.NaN;
    };
    expect(at(5) - at(10)).toBeCloseTo(at(10) - at(15), 9);
    expect(at(5)).toBeGreaterThan(at(10));
  });

  it('says in words what is seen, and accuses nobody', () => {
    expect(plot.description).toBe(
      'Resets billed as repairs of each against the number of jobs, with the range that chance ' +
        'explains. All together: 14.3%. A look at the job files is asked for: D, 12 of 36.',
    );
    const nobody = { ...six, points: six.points.slice(0, 3) };
    expect(plotFunnel(nobody, measure).description).toContain(
      'Nobody lies further from the others than chance explains.',
    );
  });

  it('has every figure in its table', () => {
    expect(plot.table.rows).toContainEqual(['D', '36', '12', '33.3%', 'yes']);
    expect(plot.table.rows).toHaveLength(6);
  });
});

describe('prices beside their bands', () => {
  const plot = plotBands(
    {
      title: 'Prices',
      subject: 'Task',
      rows: [
        {
          name: 'Replace the run capacitor',
          bandCents: [9_000, 21_000],
          chargedCents: [18_000, 70_000, 200_000],
        },
        { name: 'Reset the breaker', bandCents: [0, 0], chargedCents: [0, 25_000] },
      ],
    },
    measure,
  );

  it('marks with a diamond what lies outside, and with a dot what lies within', () => {
    expect(dots(plot.inks)).toHaveLength(2);
    expect(diamonds(plot.inks)).toHaveLength(3);
  });

  it('draws ten thousand bills in a small picture, and still each that lies outside', () => {
    const chargedCents = Array.from({ length: 10_000 }, (_, at) => 9_000 + at);
    const row = { name: 'Clean the coil', bandCents: [9_000, 18_998] as const, chargedCents };
    const many = plotBands({ title: 'Prices', subject: 'Task', rows: [row] }, measure);
    expect(svgOfPlot(many).length).toBeLessThan(60_000);
    // One cent above the band, where a fair price is drawn too.
    expect(diamonds(many.inks)).toHaveLength(1);
    expect(many.table.rows[0]?.slice(3, 5)).toEqual(['10000', '1']);
  });

  it('takes more bills than one call takes arguments', () => {
    const chargedCents = Array.from({ length: 200_000 }, (_, at) => at);
    const row = { name: 'Clean the coil', bandCents: [0, 0] as const, chargedCents };
    const { table } = plotBands({ title: 'Prices', subject: 'Task', rows: [row] }, measure);
    expect(table.rows[0]?.slice(3)).toEqual(['200000', '199999', '$1,999.99']);
  });

  it('tells how many lie above', () => {
    expect(plot.description).toContain(
      'Replace the run capacitor, 2 of 3; Reset the breaker, 1 of 2',
    );
    expect(plot.table.rows[0]?.slice(1)).toEqual(['$90.00', '$210.00', '3', '2', '$2,000.00']);
  });
});

describe('the prices of many jobs beside what they may come to', () => {
  const steps = Array.from({ length: 30 }, (_, at) => ({
    fromCents: 10_000 + 100 * at,
    toCents: 10_100 + 100 * at,
    jobs: 300,
  }));
  const far = { chargedCents: 70_000, atMostCents: 12_000 };
  const capacitor = {
    name: 'Replace the run capacitor',
    bandCents: [9_000, 14_000] as const,
    fair: steps,
    above: [far, { chargedCents: 20_000, atMostCents: 0 }],
  };
  const plotOf = (...rows: Parameters<typeof plotPrices>[0]['rows']) =>
    plotPrices({ title: 'Prices', subject: 'Work', rows }, measure);

  it('marks each job above its own price, and those at a fair price by how many they are', () => {
    const { inks } = plotOf(capacitor);
    expect(diamonds(inks)).toHaveLength(2);
    const hill = inks.filter((ink) => ink.kind === 'rectangle');
    // Its band, and one bar for each step.
    expect(hill).toHaveLength(1 + steps.length);
  });

  it('stays small however many jobs there are, and shows each that is above', () => {
    const above = Array.from({ length: 5_000 }, (_, at) => ({
      chargedCents: 15_000 + 7 * at,
      atMostCents: 14_000,
    }));
    const fair = steps.map((step) => ({ ...step, jobs: 10_000 }));
    const many = plotOf({ ...capacitor, fair, above: [...above, far] });
    expect(svgOfPlot(many).length).toBeLessThan(60_000);
    const places = diamonds(many.inks).map(([top]) => top?.[0] ?? Number.NaN);
    const rightmost = Math.max(...diamonds(plotOf(capacitor).inks).map(([top]) => top?.[0] ?? 0));
    expect(Math.max(...places)).toBe(rightmost);
    // Side by side without a gap from the least that is above on.
    const own = places.filter((place) => place !== rightmost).sort((one, other) => one - other);
    for (const [at, place] of own.slice(1).entries()) expect(place - (own[at] ?? 0)).toBe(1);
  });

  it('is drawn of a hundred thousand jobs that are all above their price', () => {
    const above = Array.from({ length: 100_000 }, (_, at) => ({
      chargedCents: 20_000 + (at % 60_000),
      atMostCents: 10_000 + (at % 7_000),
    }));
    const { table } = plotOf({ ...capacitor, fair: [], bandCents: null, above });
    expect(table.rows[0]?.slice(1, 5)).toEqual(['100,000', '', '', '100,000']);
  });

  it('stands on a scale where twice as much is as far everywhere', () => {
    const at = (chargedCents: number) => {
      const above = [{ chargedCents, atMostCents: 9_000 }, far];
      return diamonds(plotOf({ ...capacitor, above }).inks)[0]?.[0]?.[0] ?? Number.NaN;
    };
    // Drawn to the nearest point of the page.
    expect(Math.abs(at(40_000) - at(20_000) - (at(20_000) - at(10_000)))).toBeLessThanOrEqual(1);
    expect(at(40_000) - at(20_000)).toBeGreaterThan(20);
  });

  it('tells in words how many lie at a fair price and by how much the others are above', () => {
    const { description, table } = plotOf(capacitor);
    expect(description).toBe(
      'What 9,002 jobs were charged, by kind of work, beside the range of fair prices. 9,000 lie at ' +
        'a fair price. Above their own lie: Replace the run capacitor, 2 by $780.00.',
    );
    expect(table.rows[0]).toEqual([
      ...['Replace the run capacitor', '9,002', '$90.00', '$140.00', '2', '$780.00'],
    ]);
    expect(plotOf({ ...capacitor, above: [] }).description).toContain('None lies above its own.');
  });

  it('has no band where no job lies at a fair price', () => {
    const { inks, table } = plotOf({ ...capacitor, bandCents: null, fair: [], above: [far] });
    expect(inks.filter((ink) => ink.kind === 'rectangle')).toEqual([]);
    expect(table.rows[0]?.slice(1, 4)).toEqual(['1', '', '']);
  });
});

describe('a trend', () => {
  const months = [3, 0, 6, 9].map((count, at) => ({
    month: `2026-0${at + 1}`,
    count,
    trials: at === 1 ? 0 : 30,
    interval: at === 1 ? null : ([count / 60, count / 20] as const),
  }));
  const plot = plotTrend(
    { title: 'Unproven', measure: 'Unproven', trials: 'Lines', months },
    measure,
  );

  it('leaves a gap where a month has nothing to count', () => {
    expect(dots(plot.inks)).toHaveLength(3);
    // Of the line through the months one stretch: from the third to the fourth.
    const thick = plot.inks.filter((ink) => ink.kind === 'line' && ink.widthPt > 1);
    expect(thick).toHaveLength(1);
    expect(plot.table.rows[1]).toEqual(['2026-02', '0', '0', '', '', '']);
  });

  it('says where it began and where it is now', () => {
    expect(plot.description).toContain('10% in 2026-01, 30% in 2026-04');
  });
});

describe('ticks', () => {
  it.each([
    { most: 45, wanted: 6, ticks: [0, 10, 20, 30, 40, 50] },
    { most: 0.33, wanted: 5, ticks: [0, 0.1, 0.2, 0.3, 0.4] },
    { most: 1, wanted: 5, ticks: [0, 0.2, 0.4, 0.6, 0.8, 1] },
    { most: 2_000, wanted: 6, ticks: [0, 500, 1_000, 1_500, 2_000] },
    { most: 0, wanted: 5, ticks: [0, 0.2] },
  ])('up to $most: $ticks', ({ most, wanted, ticks }) => {
    expect(ticksTo(most, wanted)).toEqual(ticks);
  });

  it.each([
    { least: 0.1, most: 0.33, ticks: [0, 0.1, 0.2, 0.3, 0.4] },
    { least: 0.4, most: 1, ticks: [0, 0.2, 0.4, 0.6, 0.8, 1] },
    { least: 0.92, most: 0.98, ticks: [0.92, 0.94, 0.96, 0.98, 1] },
    { least: 1, most: 1, ticks: [0.99, 0.992, 0.994, 0.996, 0.998, 1] },
  ])('of shares from $least to $most: $ticks', ({ least, most, ticks }) => {
    expect(shareTicks(least, most)).toEqual(ticks);
  });

  it.each([
    { dollars: [89, 640], ticks: [50, 100, 200, 500, 1_000] },
    { dollars: [100, 200], ticks: [100, 200] },
    { dollars: [150], ticks: [100, 200] },
    { dollars: [0.4, 9], ticks: [1, 2, 5, 10] },
    { dollars: [3, 1_900_000], ticks: [1, 10, 100, 1_000, 10_000, 100_000, 1_000_000, 10_000_000] },
    { dollars: [], ticks: [1_000_000_000, 2_000_000_000] },
  ])('of prices $dollars: $ticks', ({ dollars, ticks }) => {
    expect(priceTicks(dollars)).toEqual(ticks);
  });

  it('stand around the prices of more jobs than one call takes arguments', () => {
    const dollars = Array.from({ length: 1_000_000 }, (_, at) => 90 + (at % 551));
    expect(priceTicks(dollars)).toEqual([50, 100, 200, 500, 1_000]);
  });

  it('reach every figure in at most three times as many steps as wanted', () => {
    const most = fc.double({ min: 1e-4, max: 1e9, noNaN: true });
    fc.assert(
      fc.property(most, (figure) => {
        const ticks = ticksTo(figure, 5);
        expect(ticks.at(-1)).toBeGreaterThanOrEqual(figure * 0.999_999);
        expect(ticks.length).toBeLessThanOrEqual(16);
      }),
    );
  });
});

describe('a share on a plot', () => {
  it.each([
    { share: 0, text: '0%' },
    { share: 1 / 5_000, text: '<0.1%' },
    { share: 1 / 1_000, text: '0.1%' },
    { share: 0.125, text: '12.5%' },
    { share: 4_999 / 5_000, text: '>99.9%' },
    { share: 1, text: '100%' },
  ])('$share is $text', ({ share, text }) => {
    expect(percent(share)).toBe(text);
  });
});

describe('whatever is plotted', () => {
  const name = fc.string({ unit: 'grapheme', minLength: 1, maxLength: 30 });
  const counted = fc
    .record({
      name,
      trials: fc.integer({ min: 1, max: 5_000 }),
      part: fc.double({ min: 0, max: 1, noNaN: true }),
    })
    .chain(({ name: called, trials, part }) =>
      fc.boolean().map((look) => person(called, Math.floor(part * trials), trials, look)),
    );

  it('lies within the picture, and everything asked about is told in words', () => {
    fc.assert(
      fc.property(fc.array(counted, { minLength: 1, maxLength: 40 }), (points) => {
        const plot = plotFunnel({ ...six, points }, measure);
        for (const [x, y] of plot.inks.flatMap(cornersOf)) {
          expect(x).toBeGreaterThanOrEqual(-0.01);
          expect(x).toBeLessThanOrEqual(plot.widthPt + 6);
          expect(y).toBeGreaterThanOrEqual(-0.01);
          expect(y).toBeLessThanOrEqual(plot.heightPt);
        }
        expect(plot.table.rows).toHaveLength(points.length);
        for (const point of points.filter(({ asksForLook }) => asksForLook)) {
          expect(plot.description).toContain(`${point.name}, ${point.count} of ${point.trials}`);
        }
      }),
      { numRuns: 60 },
    );
  });

  it('lies within the picture where prices are, from a free part to a new machine', () => {
    const amount = fc.oneof(fc.constant(0), fc.integer({ min: 1, max: 9_000_000 }));
    const row = fc
      .record({ name, low: amount, more: amount, at: amount, jobs: fc.nat({ max: 3_000 }) })
      .map(({ name: called, low, more, at, jobs }) => ({
        name: called,
        bandCents: [low, low + more] as const,
        fair: jobs === 0 ? [] : [{ fromCents: at, toCents: at + 1 + Math.round(at / 20), jobs }],
        above: more === 0 ? [] : [{ chargedCents: at + more, atMostCents: at }],
      }));
    fc.assert(
      fc.property(fc.array(row, { minLength: 1, maxLength: 14 }), (rows) => {
        const plot = plotPrices({ title: 'Prices', subject: 'Work', rows }, measure);
        for (const [x, y] of plot.inks.flatMap(cornersOf)) {
          expect(x).toBeGreaterThanOrEqual(-0.01);
          expect(x).toBeLessThanOrEqual(plot.widthPt + 6);
          expect(y).toBeGreaterThanOrEqual(-0.01);
          expect(y).toBeLessThanOrEqual(plot.heightPt);
        }
        expect(plot.table.rows).toHaveLength(rows.length);
      }),
      { numRuns: 60 },
    );
  });

  it('names are never written over each other', () => {
    fc.assert(
      fc.property(fc.array(counted, { minLength: 2, maxLength: 40 }), (points) => {
        const { inks } = plotFunnel({ ...six, points }, measure);
        const names = new Set(points.map((point) => point.name));
        const boxes = inks.flatMap((ink) =>
          ink.kind === 'text' && names.has(ink.text) && ink.style.sizePt < 8
            ? [{ from: ink.xPt, to: ink.xPt + measure(ink.text, ink.style), at: ink.baselinePt }]
            : [],
        );
        for (const [index, one] of boxes.entries()) {
          for (const other of boxes.slice(index + 1)) {
            const isApart =
              one.to <= other.from || other.to <= one.from || Math.abs(one.at - other.at) >= 8.9;
            expect(isApart).toBe(true);
          }
        }
      }),
      { numRuns: 60 },
    );
  });

  it('is a picture whose texts are as wide as they were laid out, whatever typeface draws them', () => {
    const plot = plotFunnel(six, measure);
    const svg = svgOfPlot(plot, measure);
    for (const ink of plot.inks) {
      if (ink.kind !== 'text') continue;
      const wide = Math.round(measure(ink.text, ink.style) * 100) / 100;
      expect(svg).toContain(`textLength="${wide}" lengthAdjust="spacingAndGlyphs">${ink.text}<`);
    }
  });

  it('is a picture that carries its title and description, and no name breaks out of it', () => {
    const hostile = '</text><script>alert(1)</script>&"\'';
    const svg = svgOfPlot(plotFunnel({ ...six, points: [person(hostile, 9, 40, true)] }, measure));
    expect(svg).toMatch(/^<svg xmlns="http:\/\/www\.w3\.org\/2000\/svg" role="img"/);
    expect(svg).toContain('<title>Resets billed as repairs, by technician</title><desc>');
    expect(svg).not.toContain('<script');
    // Everything that opens is closed: taking matched pairs away leaves nothing.
    let rest = svg.replaceAll(/>[^<]*</g, '><').replaceAll(/<[a-z]+( [^<>]*)?\/>/g, '');
    for (let before = ''; before !== rest; ) {
      before = rest;
      rest = rest.replaceAll(/<([a-z]+)(?: [^<>]*)?><\/\1>/g, '');
    }
    expect(rest).toBe('');
  });
});

function cornersOf(ink: PlainInk): (readonly [number, number])[] {
  switch (ink.kind) {
    case 'line':
      return [ink.fromPt, ink.toPt];
    case 'circle':
      return [ink.centerPt];
    case 'polygon':
      return [...ink.pointsPt];
    case 'rectangle':
      return [
        [ink.xPt, ink.yPt],
        [ink.xPt + ink.widthPt, ink.yPt + ink.heightPt],
      ];
    case 'text':
      return [
        [ink.xPt, ink.baselinePt],
        [ink.xPt + measure(ink.text, ink.style), ink.baselinePt],
      ];
  }
}
