import type { FiguresSaid } from './figures-said.ts';
import { figuresIn } from './read-segment.ts';
import { tagWords } from './tag-words.ts';
import type { ThingSaid } from './things-said.ts';

/** What the name of a part on a bill stands for. */
export type PartReading =
  | { readonly is: 'thing'; readonly thing: ThingSaid; readonly figures: FiguresSaid }
  /** Wire, tape and the like, which no price book lists by the piece. */
  | { readonly is: 'small_material' }
  | { readonly is: 'unclear' };

/** Reads the name of a part in the words of the trade: one thing, and no word that is not known. */
export function readPart(name: string): PartReading {
  const tags = tagWords(name);
  const known = tags.every(({ is }) => mayStandInAName.has(is));
  const things = tags.flatMap((tag) => (tag.is === 'thing' ? [tag.thing] : []));
  const isSmall = tags.some(({ is }) => is === 'small_material');
  const [thing] = things;
  if (!known || things.length > 1) return { is: 'unclear' };
  if (thing === undefined) return { is: isSmall ? 'small_material' : 'unclear' };
  if (isSmall) return { is: 'unclear' };
  const { refrigerant } = thing;
  const figures = { ...figuresIn(tags), ...(refrigerant !== undefined && { refrigerant }) };
  return { is: 'thing', thing, figures };
}

const mayStandInAName: ReadonlySet<string> = new Set([
  'thing',
  'figures',
  'filler',
  'new',
  'place_by',
  'small_material',
  'weak_break',
]);
