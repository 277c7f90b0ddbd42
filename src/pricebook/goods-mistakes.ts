import type { z } from 'zod';
import type { GoodsUnit } from '../pricing/index.ts';
import type { bookPartSchema } from './contract.ts';

type BookPart = z.output<typeof bookPartSchema>;

/** What is wrong with a part that is sold by measure, and at which field; nothing is the rule. */
export function goodsMistakes({ fit, measured, warrantyClass }: BookPart): GoodsMistake[] {
  if (measured === undefined) return [];
  const mistakes: GoodsMistake[] = [];
  if (fit.category === 'refrigerant' && !WEIGHTS.includes(measured.unit)) {
    mistakes.push({
      path: ['measured', 'unit'],
      message: `refrigerant is sold by weight: ${WEIGHTS.join(' or ')}`,
    });
  }
  // Microfarads, amperes, tons: what has a rating is one piece.
  if (fit.category !== 'refrigerant' && Object.keys(fit.specs).length > 0) {
    mistakes.push({ path: ['measured'], message: 'a part with a rating is sold in pieces' });
  }
  if (warrantyClass !== 'none') {
    mistakes.push({
      path: ['warrantyClass'],
      message: 'no maker replaces what is sold by measure: none',
    });
  }
  return mistakes;
}

export interface GoodsMistake {
  path: string[];
  message: string;
}

const WEIGHTS: readonly GoodsUnit[] = ['[lb_av]', '[oz_av]'];
