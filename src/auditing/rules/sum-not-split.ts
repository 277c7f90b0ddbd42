import { dollarsText } from '../../pricing/index.ts';
import { chargesOf } from '../jobs/charges-of.ts';
import type { BillFacts, JobDocument } from '../jobs/job-facts.ts';
import { flaggedBy } from './answers.ts';
import type { AuditRule } from './audit-rule.ts';

/** A bill that puts into one sum what a customer could check only apart. */
export const sumNotSplit: AuditRule<'sum_not_split'> = {
  code: 'sum_not_split',
  statement: 'A bill tells apart the parts, the labor, the visit fee and the tax.',
  severity: 'look',
  source: 'Common practice, no source',
  judge: ({ documents, bill }) => flaggedBy(documents.flatMap((each) => sentencesOf(each, bill))),
};

/** Kinds of line that a bill should have, by what they are called. */
const kinds = { part: 'the parts', labor: 'the labor', visit_fee: 'the visit fee' } as const;

function sentencesOf(document: JobDocument, bill: BillFacts | undefined): string[] {
  if (document.kind !== 'bill') return [];
  const charges = chargesOf(document);
  const lump = charges.filter(({ line }) => line.kind === 'lump');
  const lumpCents = lump.reduce((sum, { leftCents }) => sum + leftCents, 0);
  if (lumpCents <= 0) return [];
  const told = new Set(charges.map(({ line }) => line.kind));
  const hidden = [
    ...Object.entries(kinds).flatMap(([kind, words]) => (told.has(kind) ? [] : [words])),
    ...(isTaxTold(document) ? [] : ['the tax']),
  ];
  const isWhole = lump.length === charges.length;
  const sum = isWhole
    ? `The bill is one sum of ${dollarsText(lumpCents)}`
    : `${dollarsText(lumpCents)} of the bill is one sum`;
  const sentence =
    hidden.length === 0
      ? `${sum} that says nothing of what it is for.`
      : `${sum}. It does not tell apart ${listText(hidden)}.`;
  return [sentence, ...fairSentence(bill, document)];
}

function isTaxTold({ lines, taxLeftCents }: JobDocument): boolean {
  return taxLeftCents > 0 || lines.some(({ kind }) => kind === 'tax');
}

/** Its sum is made to stand beside all of the bill: with its tax, where a rule of ours has one. */
function fairSentence(bill: BillFacts | undefined, { taxLeftCents }: JobDocument): string[] {
  if (bill?.fair === undefined) return [];
  const { totalCents, taxCents } = bill.fair.option;
  const untaxed = taxLeftCents > 0 ? ' before tax' : '';
  const tax = taxCents > 0 ? ' with its tax' : untaxed;
  return [`By our price book the same work comes to ${dollarsText(totalCents)}${tax}.`];
}

/** ['a', 'b', 'c'] -> 'a, b and c'. */
function listText(words: readonly string[]): string {
  const [last, ...before] = [...words].reverse();
  return before.length === 0 ? (last ?? '') : `${before.reverse().join(', ')} and ${last}`;
}
