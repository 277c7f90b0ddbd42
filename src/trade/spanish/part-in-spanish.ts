import type { PartCategory } from '../words/parts.ts';
import { partCategoriesInSpanish } from './part-categories.ts';

/** A part as the price book names it, in whatever language, with its kind in Spanish. */
export function partInSpanish(category: PartCategory, name: string): string {
  const kind = partCategoriesInSpanish[category];
  return `${kind.charAt(0).toUpperCase()}${kind.slice(1)} (${name})`;
}
