import { describe, expect, it } from 'vitest';
import { type Random, randomFor } from '../../../seed/big-company/random.ts';
import {
  type DecisiveReading,
  type QuotedReading,
  type ReadingPattern,
  readingPatterns,
  type TakenValue,
} from '../../../src/auditing/index.ts';

const nothing = { decisive: [], taken: [], quoted: [] };

function rowOf(patterns: readonly ReadingPattern[], what: ReadingPattern['what'], who: string) {
  return patterns
    .find((pattern) => pattern.what === what)
    ?.rows.find(({ subject }) => subject === who);
}

/** A compressor section of 45 uF that fails below 40.5 uF, and by this meter for certain below 39.6. */
function failing(technicianId: string, value: number, at = 0): DecisiveReading {
  const id = `${technicianId}-${at}-${value}`;
  return { id, technicianId, kind: 'herm', value, decidesAt: 39.6, rating: 45 };
}

/** Failed capacitors lie anywhere from the limit down to half. */
const usual = (technicianId: string, count: number, random: Random) =>
  Array.from({ length: count }, (_, at) => failing(technicianId, random.int(200, 396) / 10, at));

/** Somebody who makes them up needs them just past the limit: within 1 % of 45 uF. */
const bunched = (technicianId: string, count: number, random: Random) =>
  Array.from({ length: count }, (_, at) =>
    failing(
      technicianId,
      random.chance(0.5) ? random.int(392, 396) / 10 : random.int(200, 396) / 10,
      at,
    ),
  );

const eight = Array.from({ length: 8 }, (_, at) => `technician ${at}`);

describe('readings just past the limit', () => {
  it.each([
    { value: 39.6, near: 1, says: 'on it' },
    { value: 39.15, near: 1, says: '1 % of the rating beyond' },
    { value: 39.1, near: 0, says: 'more' },
  ])('$value uF of 45 uF is $says', ({ value, near }) => {
    const all = [
      ...Array.from({ length: 10 }, (_, at) => failing('a', value, at)),
      ...Array.from({ length: 10 }, (_, at) => failing('b', 30, at)),
    ];
    expect(rowOf(readingPatterns({ ...nothing, decisive: all }), 'bunched', 'a')?.count).toBe(
      10 * near,
    );
  });

  it('one of eight whose failed capacitors are just failed is looked at', () => {
    const random = randomFor(11, 'bunched', 0);
    const all = [
      ...eight.flatMap((name) => usual(name, 40, random)),
      ...bunched('technician 8', 40, random),
    ];
    const patterns = readingPatterns({ ...nothing, decisive: all });
    const row = rowOf(patterns, 'bunched', 'technician 8');
    expect(row?.standing).toBe('stands_out');
    expect(row?.sentence).toMatch(
      /^\d+ of 40 readings that decide a capacitor lie within 1 % just past the limit\. The others come to \d\.\d on the same readings\. Please look at the files of these jobs\.$/,
    );
    expect(standing(patterns)).toEqual(['technician 8']);
    // The newest twenty at most, so that the owner knows where to look.
    expect(row?.readingIds.length).toBeLessThanOrEqual(20);
    expect(row?.readingIds.every((id) => id.startsWith('technician 8'))).toBe(true);
  });

  it('a limit from above counts the same', () => {
    const high = Array.from({ length: 20 }, (_, at) => ({
      ...failing('a', 50.2, at),
      decidesAt: 50,
    }));
    const far = Array.from({ length: 20 }, (_, at) => ({ ...failing('b', 58, at), decidesAt: 50 }));
    const patterns = readingPatterns({ ...nothing, decisive: [...high, ...far] });
    expect(rowOf(patterns, 'bunched', 'a')?.standing).toBe('stands_out');
  });
});

/** One reading at one home after the other. */
function taken(
  technicianId: string,
  values: readonly string[],
  siteOf: (at: number) => string = String,
): TakenValue[] {
  return values.map((value, at) => ({
    id: `${technicianId}-${at}`,
    technicianId,
    siteId: siteOf(at),
    kind: 'capacitance herm 45',
    value,
  }));
}

describe('values repeated to the last digit', () => {
  const tenths = (count: number, random: Random) =>
    Array.from({ length: count }, () => (random.int(380, 470) / 10).toFixed(1));

  it('readings are taken in pairs, one home after the other', () => {
    const values = ['38.2', '38.2', '41.0', '38.2', '38.2', '38.2', '40.0'];
    const row = rowOf(
      readingPatterns({
        ...nothing,
        taken: [...taken('a', values), ...taken('b', ['1.0', '2.0'])],
      }),
      'repeated',
      'a',
    );
    // Three pairs: alike, not alike, alike; the seventh has no partner yet.
    expect(row).toMatchObject({ trials: 3, count: 2 });
    expect(row?.readingIds).toEqual(['a-0', 'a-1', 'a-4', 'a-5']);
  });

  it('the same home twice may well read the same', () => {
    const same = taken('a', ['38.2', '38.2', '38.2'], () => 'home');
    const other = taken('b', ['38.2', '40.0']);
    const patterns = readingPatterns({ ...nothing, taken: [...same, ...other] });
    expect(rowOf(patterns, 'repeated', 'a')).toMatchObject({ trials: 0, count: 0 });
  });

  it('38.2 and 38.20 were read off two displays', () => {
    const some = [...taken('a', ['38.2', '38.20']), ...taken('b', ['38.2', '39.1'])];
    expect(rowOf(readingPatterns({ ...nothing, taken: some }), 'repeated', 'a')?.count).toBe(0);
  });

  it('what is measured elsewhere, or on another rating, is another thing', () => {
    const some = taken('a', ['38.2', '38.2']).map((each, at) => ({ ...each, kind: `kind ${at}` }));
    const patterns = readingPatterns({ ...nothing, taken: [...some, ...taken('b', ['1', '2'])] });
    expect(rowOf(patterns, 'repeated', 'a')?.trials).toBe(0);
  });

  it('one of eight who writes down a few values again and again is looked at', () => {
    const random = randomFor(12, 'repeated', 0);
    const few = ['38.2', '39.1', '38.7', '39.4', '38.9'] as const;
    const all = [
      ...eight.flatMap((name) => taken(name, tenths(80, random))),
      ...taken(
        'technician 8',
        Array.from({ length: 80 }, () => random.pick(few)),
      ),
    ];
    const patterns = readingPatterns({ ...nothing, taken: all });
    expect(standing(patterns)).toEqual(['technician 8']);
    expect(rowOf(patterns, 'repeated', 'technician 8')?.sentence).toMatch(
      /^\d+ of 40 pairs of readings at two homes are alike to the last digit\. The others come to \d\.\d on the same readings\. Please look at the files of these jobs\.$/,
    );
  });

  it('a meter that always shows 24.0 there is nobody’s doing', () => {
    const random = randomFor(13, 'the same for all', 0);
    const coarse = (name: string) =>
      taken(
        name,
        Array.from({ length: 60 }, () => random.pick(['24.0', '24.1'] as const)),
      );
    expect(standing(readingPatterns({ ...nothing, taken: eight.flatMap(coarse) }))).toEqual([]);
  });
});

describe('readings later than the quote', () => {
  const quoted = (technicianId: string, late: number, all: number): QuotedReading[] =>
    Array.from({ length: all }, (_, at) => ({
      id: `${technicianId}-${at}`,
      technicianId,
      kind: 'run_capacitor_herm',
      takenAt: '2026-05-04T16:00:00.500Z',
      quoteIssuedAt: at < late ? '2026-05-04T16:00:00Z' : '2026-05-04T16:00:01Z',
    }));

  it('are counted by the instant', () => {
    const all = [...quoted('a', 12, 30), ...eight.flatMap((name) => quoted(name, 1, 30))];
    const patterns = readingPatterns({ ...nothing, quoted: all });
    expect(standing(patterns)).toEqual(['a']);
    expect(rowOf(patterns, 'after_quote', 'a')?.sentence).toBe(
      '12 of 30 readings that a quote rests on were taken after it was issued. The others come to 1.0 on the same readings. Please look at the files of these jobs.',
    );
  });

  it('of few nothing is said', () => {
    const all = [...quoted('a', 9, 9), ...quoted('b', 0, 30)];
    expect(rowOf(readingPatterns({ ...nothing, quoted: all }), 'after_quote', 'a')?.sentence).toBe(
      '9 of 9 readings that a quote rests on were taken after it was issued. That is too few to say anything.',
    );
  });
});

describe('over a hundred invented companies', () => {
  it('somebody who makes up nothing stands out in about as few as was promised', () => {
    const values = (random: Random) =>
      Array.from({ length: 60 }, () => (random.int(380, 470) / 10).toFixed(1));
    let flagged = 0;
    for (let company = 0; company < 100; company += 1) {
      const random = randomFor(14, 'honest readings', company);
      const patterns = readingPatterns({
        decisive: eight.flatMap((name) => usual(name, 40, random)),
        taken: eight.flatMap((name) => taken(name, values(random))),
        quoted: [],
      });
      if (standing(patterns).length > 0) flagged += 1;
    }
    // One in twenty, and three deviations of a count in a hundred.
    expect(flagged / 100).toBeLessThan(0.05 + 3 * Math.sqrt((0.05 * 0.95) / 100));
  });

  it('one who makes up half of the failures stands out nearly always', () => {
    let found = 0;
    for (let company = 0; company < 100; company += 1) {
      const random = randomFor(15, 'made up', company);
      const all = [
        ...eight.flatMap((name) => usual(name, 40, random)),
        ...bunched('technician 8', 40, random),
      ];
      if (standing(readingPatterns({ ...nothing, decisive: all })).includes('technician 8')) {
        found += 1;
      }
    }
    expect(found).toBeGreaterThanOrEqual(95);
  });
});

function standing(patterns: readonly ReadingPattern[]): string[] {
  return patterns.flatMap(({ rows }) =>
    rows.filter((row) => row.standing === 'stands_out').map(({ subject }) => subject),
  );
}
