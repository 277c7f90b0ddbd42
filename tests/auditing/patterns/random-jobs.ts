import { type Random, randomFor } from '../../../seed/big-company/random.ts';
import type { JobCount, MeasureCode } from '../../../src/auditing/index.ts';
import { cents } from '../../../src/pricing/index.ts';

/** How often something is done on a young and on an old system by those who do as everybody does. */
const usual = {
  reset_billed: { among: 0.3, young: 0.04, old: 0.1 },
  unproven: { among: 1, young: 0.03, old: 0.08 },
  above_book: { among: 0.9, young: 0.04, old: 0.04 },
  came_back: { among: 0.8, young: 0.05, old: 0.1 },
  dearest_taken: { among: 0.4, young: 0.35, old: 0.45 },
} as const satisfies Partial<Record<MeasureCode, { among: number; young: number; old: number }>>;
type Usual = keyof typeof usual;

export interface RandomCompany {
  readonly technicians: number;
  readonly jobsEach: number;
  /** The first so many do the bent things so many times as often. */
  readonly often: { readonly technicians: number; readonly times: number };
  readonly bent: readonly Usual[];
}

/**
 * The jobs of an invented company's year, one after the other. Technicians are not sent to the same
 * homes: the later ones go to old systems more often, where more comes back whoever is there.
 */
export function* randomJobs(company: RandomCompany, repeat: number): Generator<JobCount> {
  const random = randomFor(20_261_126, 'jobs of technicians', repeat);
  const { technicians, jobsEach } = company;
  for (let job = 0; job < technicians * jobsEach; job += 1) {
    yield randomJob(company, job % technicians, random);
  }
}

function randomJob(
  { technicians, often, bent }: RandomCompany,
  at: number,
  random: Random,
): JobCount {
  const isOld = random.chance(0.2 + (0.5 * at) / technicians);
  const doesOften = at < often.technicians;
  const answers: Partial<Record<MeasureCode, boolean>> = {};
  for (const [measure, { among, young, old }] of Object.entries(usual)) {
    const code = measure as Usual; // Entries of a literal have no other keys.
    const times = doesOften && bent.includes(code) ? often.times : 1;
    if (random.chance(among)) answers[code] = random.chance((isOld ? old : young) * times);
  }
  return {
    technicianId: `technician ${at}`,
    callTakerId: null,
    taskCodes: [],
    partCategories: [],
    month: `2026-${String(random.int(1, 12)).padStart(2, '0')}`,
    work: random.pick(['no_cooling', 'not_enough', 'maintenance']),
    systemAgeYears: isOld ? random.int(10, 14) : random.int(0, 4),
    answers,
    billedCents: cents(random.int(15_000, 60_000)),
  };
}
