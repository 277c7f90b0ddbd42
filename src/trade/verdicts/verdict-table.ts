import type { Standing } from './verdict.ts';

export type Strength = 'none' | 'indicative' | 'decisive';
export type Cell = { standing: Exclude<Standing, 'not_applicable'>; reason: string };

/** The strongest sign for a fault (outer key) and against it (inner key) give its standing. */
export const verdictTable: Record<Strength, Record<Strength, Cell>> = {
  none: {
    none: { standing: 'unproven', reason: 'nothing recorded' },
    indicative: { standing: 'unproven', reason: 'leans against' },
    decisive: { standing: 'contradicted', reason: 'contradicted' },
  },
  indicative: {
    none: { standing: 'supported', reason: 'supported' },
    indicative: { standing: 'unproven', reason: 'signs disagree' },
    decisive: { standing: 'contradicted', reason: 'contradicted' },
  },
  decisive: {
    none: { standing: 'proven', reason: 'proven' },
    indicative: { standing: 'proven', reason: 'proven, with the doubt named' },
    decisive: { standing: 'unproven', reason: 'readings disagree, measure again' },
  },
};
