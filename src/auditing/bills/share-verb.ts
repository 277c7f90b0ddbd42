import { type SegmentSaid, workOn } from './read-segment.ts';
import type { Segment } from './segments-of.ts';
import type { Tagged } from './tag-words.ts';

/**
 * Gives a verb at the end to what is listed before it: `capacitor and contactor replaced`. Only a list
 * of bare things that ends in an *and* is one, and only where it begins what is said; after a comma
 * alone, or after something else that was said of a thing, nobody can be sure.
 */
export function shareVerb(
  segments: readonly Segment[],
  read: readonly SegmentSaid[],
): readonly SegmentSaid[] {
  const shared = [...read];
  segments.forEach((segment, at) => {
    const said = read[at];
    if (said?.is !== 'work' || said.verb === undefined || !endsAList(segment)) return;
    const { verb } = said;
    const from = beginOf(segments, at);
    if (segments[from]?.goesOn === true && read[from - 1]?.is !== 'nothing') return;
    segments.slice(from, at).forEach(({ tags }, place) => {
      const thing = thingIn(tags);
      if (thing !== undefined) shared[from + place] = workOn(thing.thing, verb, tags);
    });
  });
  return shared;
}

/**
 * One thing of which nothing is said but its figures. A bad one may only have been found: of `bad
 * compressor and capacitor replaced` nobody knows.
 */
export function isBare({ tags }: Pick<Segment, 'tags'>): boolean {
  const things = tags.filter(({ is }) => is === 'thing');
  return things.length === 1 && tags.every(({ is }) => mayBeListed.has(is));
}

/** An *and* before it, and its verb behind the thing. */
function endsAList({ tags, goesOn, afterComma }: Segment): boolean {
  const thingAt = tags.findIndex(({ is }) => is === 'thing');
  const verbAt = tags.findIndex(({ is }) => is === 'verb');
  return goesOn && !afterComma && thingAt >= 0 && thingAt < verbAt;
}

/** Where the bare things begin that go on up to a segment. */
function beginOf(segments: readonly Segment[], at: number): number {
  const before = segments[at - 1];
  const isListed = segments[at]?.goesOn === true && before !== undefined && isBare(before);
  return isListed ? beginOf(segments, at - 1) : at;
}

const mayBeListed: ReadonlySet<string> = new Set([
  'thing',
  'figures',
  'count',
  'filler',
  'aside',
  'place_by',
]);

function thingIn(tags: readonly Tagged[]): Extract<Tagged, { is: 'thing' }> | undefined {
  return tags.find((tag) => tag.is === 'thing');
}
