import { type Tagged, tagWords } from './tag-words.ts';

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
 * and before a verb where one was said already. What is named as a place is left out.
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
  return segments;
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
  const kept: Tagged[] = [];
  let isPlace = false;
  for (const tag of tags) {
    if (isPlace && tag.is === 'thing') isPlace = false;
    else {
      const begins = tag.is === 'place_by' && kept.some(({ is }) => is === 'thing');
      isPlace = begins || (isPlace && tag.is === 'filler');
      kept.push(tag);
    }
  }
  return kept;
}
