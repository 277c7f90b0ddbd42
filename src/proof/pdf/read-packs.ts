import { assertOnlyKeys } from './only-keys.ts';
import { type PdfValue, StrictlyUnreadable } from './pdf-value.ts';
import type { Place } from './read-places.ts';
import { isPackedAsOurs, type Unpacker } from './strict-pdf.ts';
import { ValueParser } from './value-parser.ts';

/**
 * Reads the objects that are packed together in streams (ISO 32000-2, 7.5.7): each where the table
 * says, in the order of the pack, and nothing else in it.
 * @param plain the objects that stand in the file itself
 * @returns the packed ones by their numbers, and the numbers of the packs
 * @throws StrictlyUnreadable, TooLargeUnpacked
 */
export function readPacks(
  places: ReadonlyMap<number, Place>,
  plain: ReadonlyMap<number, PdfValue>,
  unpacker: Unpacker,
): { packed: Map<number, PdfValue>; packNumbers: Set<number> } {
  const listed = new Map<number, Listed[]>();
  for (const [objectNumber, place] of places) {
    if (place.kind !== 'packed') continue;
    const pack = listed.get(place.packNumber) ?? [];
    listed.set(place.packNumber, pack);
    pack.push({ objectNumber, position: place.position });
  }
  const packed = new Map<number, PdfValue>();
  for (const [packNumber, pack] of listed) {
    const numbers = inTheirPlaces(pack);
    const values = readPack(plain.get(packNumber), numbers, unpacker);
    for (const [at, value] of values.entries()) packed.set(numbers[at] ?? 0, value);
  }
  return { packed, packNumbers: new Set(listed.keys()) };
}

interface Listed {
  objectNumber: number;
  position: number;
}

/** The numbers of a pack's objects in the order in which they stand there, none left out. */
function inTheirPlaces(pack: readonly Listed[]): number[] {
  const sorted = [...pack].sort((a, b) => a.position - b.position);
  return sorted.map(({ objectNumber, position }, at) => {
    if (position !== at) throw oddPack();
    return objectNumber;
  });
}

function readPack(
  pack: PdfValue | undefined,
  numbers: readonly number[],
  unpacker: Unpacker,
): PdfValue[] {
  if (pack?.kind !== 'stream' || !isPackedAsOurs(pack)) throw oddPack();
  assertOnlyKeys(pack.entries, PACK_KEYS, 'a pack of objects');
  const type = pack.entries.get('Type');
  const count = pack.entries.get('N');
  const first = pack.entries.get('First');
  if (type?.kind !== 'name' || type.text !== 'ObjStm') throw oddPack();
  if (count?.kind !== 'number' || count.value !== numbers.length) throw oddPack();
  if (first?.kind !== 'number' || !Number.isInteger(first.value)) throw oddPack();
  const text = Buffer.from(unpacker.unpack(pack)).toString('latin1');
  const body = text.slice(first.value);
  const starts = readHead(text.slice(0, first.value), numbers);
  return starts.map((start, at) => readOnly(body, start, starts[at + 1]));
}

const PACK_KEYS = new Set(['Type', 'N', 'First', 'Filter', 'Length']);

/** Pairs of an object's number and where it starts, which must rise from nought. */
function readHead(head: string, numbers: readonly number[]): number[] {
  if (!/^(?:(?:0|[1-9]\d{0,9})[\n ]+)+$/.test(head)) throw oddPack();
  const figures = head
    .split(/[\n ]+/)
    .filter(Boolean)
    .map(Number);
  const starts = figures.filter((_, at) => at % 2 === 1);
  const isListed = numbers.every((number, at) => number === figures[2 * at]);
  const isRising = starts.every((start, at) => start > (starts[at - 1] ?? -1));
  if (figures.length !== 2 * numbers.length || !isListed) throw oddPack();
  if (starts[0] !== 0 || !isRising) throw oddPack();
  return starts;
}

/** The one value that the letters hold: whoever reads on from it comes to the next in its place. */
function readOnly(body: string, start: number, next: number | undefined): PdfValue {
  const parser = new ValueParser(body.slice(0, next), start);
  const value = parser.readValue();
  const isApart = next === undefined || parser.isAtSpace();
  parser.skipSpace();
  if (!isApart || parser.position !== parser.text.length) throw oddPack();
  return value;
}

function oddPack(): StrictlyUnreadable {
  return new StrictlyUnreadable('a pack of objects is not plain');
}
