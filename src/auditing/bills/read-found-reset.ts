import { faultCatalog, type TaskCode } from '../../trade/index.ts';
import { isReset } from '../rules/is-reset.ts';
import { workOn } from './read-segment.ts';
import { inOurWords, type ReadWork } from './read-work.ts';
import { type Segment, segmentsOf } from './segments-of.ts';
import type { Tagged } from './tag-words.ts';
import type { ThingSaid, Verb } from './things-said.ts';

/** What was found, where nothing but a reset puts it right. */
export interface FoundReset {
  readonly resets: readonly ReadWork[];
  /** Work that such a finding asks for: the reset, the look for its cause, the usual cause mended. */
  readonly askedFor: ReadonlySet<TaskCode>;
}

/**
 * Reads whether what a bill says was found is only what a reset puts right: a tripped breaker, a blown
 * fuse, dead batteries. It never guesses: a bad breaker, a word that is not known or any other thing
 * beside it, and it says nothing.
 */
export function readFoundReset(found: string): FoundReset | undefined {
  const segments = segmentsOf(found);
  const isKnown = segments.every(({ tags }) => tags.every((tag) => mayBeFound(tag, found)));
  const named = segments.filter(({ tags }) => tags.some(({ is }) => is === 'thing'));
  const resets = named.flatMap((segment) => resetOf(segment, found) ?? []);
  if (!isKnown || resets.length === 0 || resets.length < named.length) return undefined;
  const tasks = resets.flatMap(({ taskCodes }) => taskCodes);
  const remedies = faultCatalog
    .filter((fault) => fault.remedies.some(({ task }) => isReset(task) && tasks.includes(task)))
    .flatMap((fault) => fault.remedies.map(({ task }): TaskCode => task));
  const causes = tasks.flatMap((task) => causesMended[task] ?? []);
  return { resets, askedFor: new Set([...tasks, ...remedies, ...causes]) };
}

/** What usually lies behind: a full pan lifts the float, a short opens the fuse. Common practice. */
const causesMended: { readonly [Task in TaskCode]?: readonly TaskCode[] } = {
  reset_float_switch: ['clear_condensate_drain', 'replace_condensate_pump'],
  replace_control_fuse: ['repair_control_wiring'],
};

function mayBeFound(tag: Tagged, found: string): boolean {
  return known.has(tag.is) || (tag.is === 'unknown' && tripped.has(wordOf(tag, found)));
}

const known: ReadonlySet<string> = new Set([
  'thing',
  'wrong',
  'condition',
  'filler',
  'figures',
  'check',
  'place_by',
]);

/** How a switch is found that somebody or something has opened. */
const tripped: ReadonlySet<string> = new Set(['tripped', 'open', 'off', 'out', 'pulled', 'popped']);

function wordOf({ from, to }: Tagged, found: string): string {
  return found.slice(from, to).toLowerCase();
}

/** A thing that is put back where it tripped, or that is a material of a reset and is spent. */
function resetOf({ tags }: Segment, found: string): ReadWork | undefined {
  const things = tags.flatMap((tag) => (tag.is === 'thing' ? [tag.thing] : []));
  const [thing, ...others] = things;
  const wrongs = tags.filter(({ is }) => is === 'wrong' || is === 'unknown');
  if (thing === undefined || others.length > 0 || wrongs.length === 0) return undefined;
  const verb = verbOf(thing);
  const isTripped = wrongs.every((tag) => tripped.has(wordOf(tag, found)));
  if (verb === undefined || (verb === 'reset' && !isTripped)) return undefined;
  const said = workOn(thing, verb, tags);
  return said.is === 'work' ? inOurWords(said, found) : undefined;
}

function verbOf({ done }: ThingSaid): Verb | undefined {
  const { reset = [], replace = [] } = done;
  if (reset.length > 0) return 'reset';
  return replace.length > 0 && replace.every(isReset) ? 'replace' : undefined;
}
