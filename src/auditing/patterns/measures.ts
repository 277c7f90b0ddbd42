/** What jobs are counted by: who was there, who took the call, or what the job was. */
export const dimensions = ['technician', 'call_taker', 'task', 'part_category', 'month'] as const;
export type Dimension = (typeof dimensions)[number];

interface MeasureWords {
  /** More of it asks for a look at the files, or for praise. */
  readonly side: 'look' | 'praise';
  /** What happened, to be followed by how often. */
  readonly happened: string;
  /** Among which jobs it is counted. */
  readonly among: string;
  /** By what it is worth counting. */
  readonly by: readonly Dimension[];
}

/** What is counted over many jobs. */
export const measures = {
  reset_billed: {
    side: 'look',
    happened: 'A reset was billed as a repair',
    among: 'jobs with a reset',
    by: ['technician', 'month'],
  },
  unproven: {
    side: 'look',
    happened: 'Something was billed that no reading carries',
    among: 'jobs with work billed',
    by: ['technician', 'task', 'month'],
  },
  above_book: {
    side: 'look',
    happened: 'The bill was above the price book',
    among: 'jobs with work billed',
    by: ['technician', 'task', 'part_category', 'month'],
  },
  came_back: {
    side: 'look',
    happened: 'The same fault came back',
    among: 'jobs with work done',
    by: ['technician', 'task', 'part_category', 'month'],
  },
  dearest_taken: {
    side: 'look',
    happened: 'The dearest option was taken',
    among: 'jobs with a choice of options',
    by: ['technician'],
  },
  solved_by_phone: {
    side: 'praise',
    happened: 'It was solved by phone',
    among: 'calls that could be',
    by: ['call_taker', 'month'],
  },
  cause_found: {
    side: 'praise',
    happened: 'The cause behind a reset was found',
    among: 'jobs with a reset',
    by: ['technician', 'month'],
  },
  cured_first_time: {
    side: 'praise',
    happened: 'The first repair cured it',
    among: 'jobs with work done',
    by: ['technician', 'task'],
  },
  proven: {
    side: 'praise',
    happened: 'Everything billed was proven by readings',
    among: 'jobs with work billed',
    by: ['technician', 'month'],
  },
  read_after_work: {
    side: 'praise',
    happened: 'Readings were taken after the work',
    among: 'jobs with work done',
    by: ['technician'],
  },
} as const satisfies Record<string, MeasureWords>;

export type MeasureCode = keyof typeof measures;

/** The words of a measure, with lists as wide as they may be. */
export function measureWords(code: MeasureCode): MeasureWords {
  return measures[code];
}
