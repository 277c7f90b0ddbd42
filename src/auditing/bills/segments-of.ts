import { type Tagged, tagWords } from './tag-words.ts';
import { type ThingSaid, thingCalled } from './things-said.ts';

/** A stretch of a text that says one thing. */
export interface Segment {
  readonly text: string;
  readonly tags: readonly Tagged[];
  /** It goes on with what the one before it said: `capacitor and contactor`. */
  readonly goesOn: boolean;
  /** By a comma, which may as well begin something else. */
  readonly afterComma: boolean;
}

/**
 * Takes a text apart where another thing begins to be said: at a full stop, at a comma or an *and*,
 * and before a verb where one was said already. What is named as a place is left out, and says at
 * most which of several things it was.
 */
export function segmentsOf(text: string): Segment[] {
  const segments: Segment[] = [];
  let tags: Tagged[] = [];
  let goesOn = false;
  let afterComma = false;
  const end = (next: { goesOn: boolean; afterComma?: boolean }) => {
    const [first] = tags;
    const last = tags.at(-1);
    if (first !== undefined && last !== undefined) {
      const words = text.slice(first.from, last.to).trim();
      segments.push({ text: words, tags: settled(tags), goesOn, afterComma });
    }
    tags = [];
    goesOn = next.goesOn;
    afterComma = next.afterComma ?? false;
  };
  for (const tag of tagWords(text)) {
    if (tag.is === 'strong_break') end({ goesOn: false });
    else if (tag.is === 'weak_break') {
      end({ goesOn: true, afterComma: text.slice(tag.from, tag.to).includes(',') });
    } else {
      if (beginsAnother(tag, tags)) end({ goesOn: false });
      tags.push(tag);
    }
  }
  end({ goesOn: false });
  return segments.map((segment, at) => afterOther(segment, segments[at - 1]));
}

function beginsAnother(tag: Tagged, before: readonly Tagged[]): boolean {
  if (tag.is !== 'verb' && tag.is !== 'check') return false;
  return before.some(({ is }) => is === 'verb' || is === 'check');
}

/** Without places, and *new* as the verb it is where there is no other. */
function settled(tags: readonly Tagged[]): Tagged[] {
  const here = withoutPlaces(tags);
  const hasVerb = here.some(({ is }) => is === 'verb' || is === 'not_done' || is === 'check');
  return here.map((tag) => {
    if (tag.is !== 'new') return tag;
    const { from, to } = tag;
    return hasVerb
      ? { is: 'filler', from, to }
      : { is: 'verb', verb: 'install', says: 'new', from, to };
  });
}

/** A place comes after the thing: `two pounds of refrigerant` is none, `capacitor on condenser` is. */
function withoutPlaces(tags: readonly Tagged[]): Tagged[] {
  let kept: Tagged[] = [];
  let isPlace = false;
  for (const tag of tags) {
    if (isPlace && tag.is === 'thing') {
      isPlace = false;
      kept = kept.map((before) => named(before, ({ placed }) => placed, tag.thing));
    } else {
      const begins = tag.is === 'place_by' && kept.some(({ is }) => is === 'thing');
      isPlace = begins || (isPlace && tag.is === 'filler');
      kept.push(tag);
    }
  }
  return kept;
}

/** What goes on with a thing may be a part of it. */
function afterOther(segment: Segment, before: Segment | undefined): Segment {
  const other = before?.tags.find(({ is }) => is === 'thing');
  if (!segment.goesOn || other?.is !== 'thing') return segment;
  const tags = segment.tags.map((tag) => named(tag, ({ after }) => after, other.thing));
  return { ...segment, tags };
}

/** A thing by the name that it has beside another. */
function named(
  tag: Tagged,
  namesOf: (thing: ThingSaid) => Readonly<Record<string, string>> | undefined,
  other: ThingSaid,
): Tagged {
  const names = tag.is === 'thing' ? namesOf(tag.thing) : undefined;
  const name = names && other.says.map((says) => names[says]).find((each) => each !== undefined);
  return name === undefined ? tag : { ...tag, is: 'thing', thing: thingCalled(name) };
}
