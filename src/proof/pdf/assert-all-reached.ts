import { type PdfValue, StrictlyUnreadable } from './pdf-value.ts';
import type { StrictPdf } from './strict-pdf.ts';

/**
 * Refuses a file with an object that nothing leads to: no digest sees it, and a viewer that finds
 * its way otherwise than from the root may show it. An empty dictionary may be left over.
 * @param frame the numbers of objects that hold others, or the table
 * @throws StrictlyUnreadable
 */
export function assertAllReached(
  pdf: StrictPdf,
  objects: ReadonlyMap<number, PdfValue>,
  frame: ReadonlySet<number>,
): void {
  const reached = reachedFrom(pdf, ['Root', 'Info']);
  for (const [objectNumber, value] of objects) {
    const isLeftOver = value.kind === 'dictionary' && value.entries.size === 0;
    if (reached.has(objectNumber) === frame.has(objectNumber) && !isLeftOver) {
      throw new StrictlyUnreadable(`nothing leads to object ${objectNumber}`);
    }
  }
}

function reachedFrom(pdf: StrictPdf, keys: readonly string[]): Set<number> {
  const reached = new Set<number>();
  const open = keys.flatMap((key) => pdf.trailer.entries.get(key) ?? []);
  const lookInto = (value: PdfValue): void => {
    if (value.kind === 'reference') {
      if (reached.has(value.objectNumber)) return;
      reached.add(value.objectNumber);
      open.push(pdf.look(value));
    } else if (value.kind === 'array') {
      for (const item of value.items) lookInto(item);
    } else if (value.kind === 'dictionary' || value.kind === 'stream') {
      for (const entry of value.entries.values()) lookInto(entry);
    }
  };
  // One object after another, for a chain of them may be longer than calls can be nested.
  for (let value = open.pop(); value !== undefined; value = open.pop()) lookInto(value);
  return reached;
}
