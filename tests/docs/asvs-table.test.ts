import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';

/**
 * The requirements of levels 1 and 2, by section: those of level 1, then those of level 2. Source:
 * OWASP Application Security Verification Standard 5.0.0, the list that is published as CSV
 * (github.com/OWASP/ASVS, 5.0/docs_en), which has 70 and 183 of them.
 */
const bySection: Readonly<Record<string, readonly [level1: string, level2: string]>> = {
  '1.1': ['', '1-2'],
  '1.2': ['1-5', '6-9'],
  '1.3': ['1-2', '3-11'],
  '1.4': ['', '1-3'],
  '1.5': ['1', '2'],
  '2.1': ['1', '2-3'],
  '2.2': ['1-2', '3'],
  '2.3': ['1', '2-4'],
  '2.4': ['', '1'],
  '3.2': ['1-2', ''],
  '3.3': ['1', '2-4'],
  '3.4': ['1-2', '3-6'],
  '3.5': ['1-3', '4-5'],
  '3.7': ['', '1-2'],
  '4.1': ['1', '2-3'],
  '4.2': ['', '1'],
  '4.3': ['', '1-2'],
  '4.4': ['1', '2-4'],
  '5.1': ['', '1'],
  '5.2': ['1-2', '3'],
  '5.3': ['1-2', ''],
  '5.4': ['', '1-3'],
  '6.1': ['1', '2-3'],
  '6.2': ['1-8', '9-12'],
  '6.3': ['1-2', '3-4'],
  '6.4': ['1-2', '3-4'],
  '6.5': ['', '1-5'],
  '6.6': ['', '1-3'],
  '6.8': ['', '1-4'],
  '7.1': ['', '1-3'],
  '7.2': ['1-4', ''],
  '7.3': ['', '1-2'],
  '7.4': ['1-2', '3-5'],
  '7.5': ['', '1-2'],
  '7.6': ['', '1-2'],
  '8.1': ['1', '2'],
  '8.2': ['1-2', '3'],
  '8.3': ['1', ''],
  '8.4': ['', '1'],
  '9.1': ['1-3', ''],
  '9.2': ['1', '2-4'],
  '10.1': ['', '1-2'],
  '10.2': ['', '1-2'],
  '10.3': ['', '1-4'],
  '10.4': ['1-5', '6-11'],
  '10.5': ['', '1-5'],
  '10.6': ['', '1-2'],
  '10.7': ['', '1-3'],
  '11.1': ['', '1-2'],
  '11.2': ['', '1-3'],
  '11.3': ['1-2', '3'],
  '11.4': ['1', '2-4'],
  '11.5': ['', '1'],
  '11.6': ['', '1'],
  '12.1': ['1', '2-3'],
  '12.2': ['1-2', ''],
  '12.3': ['', '1-4'],
  '13.1': ['', '1'],
  '13.2': ['', '1-5'],
  '13.3': ['', '1-2'],
  '13.4': ['1', '2-5'],
  '14.1': ['', '1-2'],
  '14.2': ['1', '2-4'],
  '14.3': ['1', '2-3'],
  '15.1': ['1', '2-3'],
  '15.2': ['1', '2-3'],
  '15.3': ['1', '2-7'],
  '16.1': ['', '1'],
  '16.2': ['', '1-5'],
  '16.3': ['', '1-4'],
  '16.4': ['', '1-3'],
  '16.5': ['', '1-3'],
  '17.1': ['', '1'],
  '17.2': ['', '1-4'],
  '17.3': ['', '1-2'],
};

const root = path.resolve(import.meta.dirname, '../..');

interface Row {
  first: string;
  last: string;
  level: string;
  asks: string;
  here: string;
}

const [, appendix = ''] = readFileSync(path.join(root, 'DEVELOPERS.md'), 'utf8').split(
  /^## Appendix: .*ASVS.*$/m,
);
const rows = appendix.split('\n').flatMap(rowOf);

function rowOf(line: string): Row[] {
  const [, first = '', last = first, level = '', asks = '', here = ''] =
    /^\| (\d[\d.]*)(?:-([\d.]+))? \| ([\d, ]+) \| (.+?) \| (.+) \|$/.exec(line) ?? [];
  return first === '' ? [] : [{ first, last, level, asks, here }];
}

const levelOf = new Map<string, 1 | 2>();
for (const [section, [level1, level2]] of Object.entries(bySection)) {
  for (const number of numbersIn(level1)) levelOf.set(`${section}.${number}`, 1);
  for (const number of numbersIn(level2)) levelOf.set(`${section}.${number}`, 2);
}
const requirements = [...levelOf.keys()];

function numbersIn(range: string): number[] {
  if (range === '') return [];
  const [from = 0, to = from] = range.split('-').map(Number);
  return Array.from({ length: to - from + 1 }, (_, at) => from + at);
}

/** The requirements that a line speaks of. */
function spanOf({ first, last }: Row): string[] {
  return requirements.slice(requirements.indexOf(first), requirements.indexOf(last) + 1);
}

type Answer = 'shown' | 'untested' | 'not met' | 'the operator’s' | 'not applicable';

const PLAINLY: readonly (readonly [start: RegExp, answer: Answer])[] = [
  [/^No test\b/, 'untested'],
  [/^Not met\b/, 'not met'],
  [/^Operator's\b/, 'the operator’s'],
  [/^Does not apply: ./, 'not applicable'],
];

function answerOf({ here }: Row): Answer | undefined {
  const [, plain] = PLAINLY.find(([start]) => start.test(here)) ?? [];
  return plain ?? (filesIn(here).some((file) => file.startsWith('tests/')) ? 'shown' : undefined);
}

/** The files that a line names: a test by its path below `tests/`, any other by its own. */
function filesIn(here: string): string[] {
  const names = [...here.matchAll(/`([^`]+)`/g)].map(([, name = '']) => name);
  return names.flatMap((name) => {
    if (/^src\//.test(name) || ROOT_FILE.test(name)) return [name];
    return /^[a-z-]+(\/[a-z-]+)+$/.test(name) ? [`tests/${name}.test.ts`] : [];
  });
}

const ROOT_FILE = /^(Dockerfile|\.dockerignore|[\w-]+\.(md|json))$/;

describe('the table of OWASP ASVS 5.0.0', () => {
  it('rests on the 70 requirements of level 1 and the 183 of level 2', () => {
    const count = (level: 1 | 2) => [...levelOf.values()].filter((each) => each === level).length;
    expect([count(1), count(2)]).toEqual([70, 183]);
  });

  it('has each of them once, in their order', () => {
    expect(rows.flatMap(spanOf)).toEqual(requirements);
    for (const row of rows) expect(spanOf(row), row.first).toContain(row.last);
  });

  it('names the level of each', () => {
    for (const row of rows) {
      const levels = new Set(spanOf(row).map((each) => levelOf.get(each)));
      expect(row.level, row.first).toBe([...levels].sort().join(', '));
    }
  });

  it('has a test, or says plainly that there is none and why, on one line that can be read', () => {
    for (const row of rows) {
      expect(answerOf(row), `${row.first}: ${row.here}`).toBeDefined();
    }
    for (const line of appendix.split('\n')) expect(line.length, line).toBeLessThanOrEqual(160);
  });

  it('names files that are there', () => {
    const named = rows.flatMap(({ here }) => filesIn(here));
    expect(named.length).toBeGreaterThan(100);
    expect(named.filter((file) => !existsSync(path.join(root, file)))).toEqual([]);
  });

  it('counts them as they are', () => {
    const counted: Partial<Record<Answer, number>> = {};
    for (const row of rows) {
      const answer = answerOf(row);
      if (answer !== undefined) counted[answer] = (counted[answer] ?? 0) + spanOf(row).length;
    }
    const told = [
      ...appendix.matchAll(/(\d+) (shown|untested|not met|the operator’s|not applicable)\b/g),
    ];
    expect(Object.fromEntries(told.map(([, count, answer]) => [answer, Number(count)]))).toEqual(
      counted,
    );
  });
});
