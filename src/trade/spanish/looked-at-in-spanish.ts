import type { LookedAt } from '../facts/looked-at.ts';
import { observationsInSpanish } from './observations.ts';
import { pointsInSpanish } from './points.ts';
import { quantitiesInSpanish } from './quantities.ts';

/**
 * Any of several looks that would do, in Spanish and to follow a colon: 'presión estática, caída en
 * el filtro; o si el filtro está sucio'.
 */
export function lookedAtInSpanish(ways: readonly LookedAt[]): string {
  return [...new Set(ways.map(oneWay))].join('; o ');
}

function oneWay(way: LookedAt): string {
  if ('observation' in way) return `si ${lowerFirst(observationsInSpanish[way.observation])}`;
  return `${lowerFirst(quantitiesInSpanish[way.quantity])}, ${pointsInSpanish[way.point]}`;
}

function lowerFirst(text: string): string {
  return text.charAt(0).toLowerCase() + text.slice(1);
}
