/** A part of the pure core, and the tests beside it that have to notice every mutant of it. */
export type MutatedRoom = {
  name: string;
  /** Folders and files that are mutated. */
  places: readonly string[];
  /** Files in them that are tables of words and data, and are not. */
  data: readonly string[];
  /** Read before every test: a mutant that cannot even be read is noticed there. */
  entry: string;
  /** Files of tests, none of which needs a database. */
  tests: readonly string[];
  /** Those of them that take seconds: run last, for what nothing else noticed. */
  slowTests: readonly string[];
  /** Left out: they count among thousands of companies, which with every count of hits takes minutes. */
  countingTests?: readonly string[];
};

export const mutatedRooms: readonly MutatedRoom[] = [
  {
    name: 'lifecycles',
    places: ['src/lifecycles'],
    data: [],
    entry: 'src/lifecycles/index.ts',
    tests: ['tests/lifecycles/tables.test.ts', 'tests/lifecycles/invoice.test.ts'],
    slowTests: [],
  },
  {
    name: 'pricing',
    places: ['src/pricing'],
    data: ['src/pricing/words.ts', 'src/pricing/spanish/words.ts'],
    entry: 'src/pricing/index.ts',
    tests: ['tests/pricing/**/*.test.ts', 'tests/laws/pricing*.test.ts'],
    slowTests: ['tests/laws/', 'by-engine', 'why-in-words', 'explain-totals', 'spanish'],
  },
  {
    name: 'weighing',
    places: [
      'src/trade/weigh.ts',
      'src/trade/verdicts',
      'src/trade/uncertainty',
      'src/trade/facts',
    ],
    data: [],
    entry: 'src/trade/weigh.ts',
    tests: ['tests/trade/**/*.test.ts'],
    slowTests: ['laws', 'tests/trade/visits', 'tests/trade/spanish', 'golden'],
  },
  {
    name: 'auditing',
    places: ['src/auditing'],
    data: [
      'src/auditing/bills/words-said.ts',
      'src/auditing/bills/things-said.ts',
      'src/auditing/bills/tag-words.ts',
    ],
    entry: 'src/auditing/index.ts',
    tests: ['tests/auditing/**/*.test.ts'],
    countingTests: ['tests/auditing/patterns/two-who-do-it-often.test.ts'],
    slowTests: [
      'compare-with-others',
      'never-stumbles',
      'judge-job',
      'accepted-one-by-one',
      'dismissed',
      'goodwill-before',
    ],
  },
];

/** The room whose tests this process runs, as its environment says. */
export const roomOfProcess = mutatedRooms.find(({ name }) => name === process.env['MUTATED_ROOM']);
