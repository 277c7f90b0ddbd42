import { StrictlyUnreadable } from './pdf-value.ts';
import type { Place, Places } from './read-places.ts';
import { ValueParser } from './value-parser.ts';

/**
 * Reads a table of objects that is written out in letters, and the trailer behind it.
 * @throws StrictlyUnreadable
 */
export function readTable(text: string, start: number): Places {
  const parser = new ValueParser(text, start);
  if (parser.match(/xref\n/y) === undefined) throw broken();
  const places = new Map<number, Place>();
  let next = 0;
  while (parser.match(/\n?trailer(?=[\n ])/y) === undefined) {
    next = readSection(parser, places, next);
  }
  const trailer = parser.readValue();
  if (trailer.kind !== 'dictionary') throw new StrictlyUnreadable('the trailer is missing');
  return { places, trailer, frame: [{ start, end: parser.position }] };
}

/** @returns the number after the last one of the section: the next may not go back behind it */
function readSection(parser: ValueParser, places: Map<number, Place>, from: number): number {
  const head = parser.match(/(0|[1-9]\d{0,9}) ([1-9]\d{0,6})\n/y);
  const first = Number(head?.[1]);
  const end = first + Number(head?.[2]);
  if (head === undefined || first < from) throw broken();
  for (let objectNumber = first; objectNumber < end; objectNumber += 1) {
    const [row, offset] = parser.match(TABLE_ROW) ?? [];
    if (row === undefined) throw broken();
    if (objectNumber === 0) assertNothing(row);
    else if (!row.endsWith(' 00000 n \n')) throw new StrictlyUnreadable('an object was replaced');
    else places.set(objectNumber, { kind: 'at', offset: Number(offset) });
  }
  return end;
}

const TABLE_ROW = /(\d{10}) \d{5} [nf] \n/y;

/** The first row of the first section stands for no object. */
function assertNothing(row: string): void {
  if (row !== '0000000000 65535 f \n') throw broken();
}

function broken(): StrictlyUnreadable {
  return new StrictlyUnreadable('the table of objects is broken');
}
