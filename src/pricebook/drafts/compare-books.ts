import {
  cents,
  decimalSchema,
  type PartPricer,
  type PartTiers,
  partPricer,
  ratioOf,
} from '../../pricing/index.ts';
import type { BookContent } from '../contract.ts';
import type { BookChange } from './contract.ts';

type Scalar = string | number | null;
/** The fields of an entry by their paths: `hours.from`. */
type Fields = ReadonlyMap<string, Scalar>;
type List = BookChange['list'];

/**
 * Everything in which one price book differs from another, entry by entry and field by field.
 * Numbers written in another way, 0.2 and 0.20, are no difference.
 */
export function compareBooks(before: BookContent, after: BookContent): BookChange[] {
  return [
    ...compareWhole('rates', before.rates, after.rates),
    ...compareWhole('tiers', { mode: before.tiers.mode }, { mode: after.tiers.mode }),
    ...compareEntries('tiers', placed(before.tiers.steps), placed(after.tiers.steps)),
    ...compareWhole('policy', before.policy, after.policy),
    ...compareEntries('periods', ranked(before.periods), ranked(after.periods)),
    ...compareEntries('tasks', coded(before.tasks), coded(after.tasks)),
    ...compareParts(before, after),
    ...compareEntries('agreements', coded(before.agreements), coded(after.agreements)),
    ...compareEntries('replacements', placed(before.replacements), placed(after.replacements)),
  ];
}

function compareWhole(list: List, before: object, after: object): BookChange[] {
  return compareFields(list, null, fieldsOf(before), fieldsOf(after));
}

function compareEntries<Entry extends object>(
  list: List,
  before: ReadonlyMap<string, Entry>,
  after: ReadonlyMap<string, Entry>,
  compareEntry = (entry: string, was: Entry, now: Entry) =>
    compareFields(list, entry, fieldsOf(was), fieldsOf(now)),
): BookChange[] {
  const nothing = { field: null, before: null, after: null };
  const removed = [...before.keys()].filter((entry) => !after.has(entry));
  return [
    ...removed.map((entry) => ({ list, entry, change: 'removed' as const, ...nothing })),
    ...[...after].flatMap(([entry, now]): BookChange[] => {
      const was = before.get(entry);
      if (was === undefined) return [{ list, entry, change: 'added', ...nothing }];
      return compareEntry(entry, was, now);
    }),
  ];
}

/** Parts with what they sell for, which other tiers change too. */
function compareParts(before: BookContent, after: BookContent): BookChange[] {
  const comparePrice = priceComparer(before.tiers, after.tiers);
  return compareEntries('parts', coded(before.parts), coded(after.parts), (entry, was, now) => [
    ...comparePart(entry, was, now),
    ...comparePrice(entry, was, now),
  ]);
}

function priceComparer(before: PartTiers, after: PartTiers) {
  const sameTiers = compareWhole('tiers', before, after).length === 0;
  const priceBefore = rememberingPricer(before);
  const priceAfter = rememberingPricer(after);
  return (entry: string, was: BookPart, now: BookPart): BookChange[] => {
    if (sameTiers && was.costCents === now.costCents) return [];
    return compareFields(
      'parts',
      entry,
      new Map([['priceCents', priceBefore(was.costCents)]]),
      new Map([['priceCents', priceAfter(now.costCents)]]),
    );
  };
}

type BookPart = BookContent['parts'][number];

function comparePart(entry: string, was: BookPart, now: BookPart): BookChange[] {
  // Most of fifty thousand are the same, and this tells so far faster than field by field.
  if (JSON.stringify(was) === JSON.stringify(now)) return [];
  return compareFields('parts', entry, fieldsOf(was), fieldsOf(now));
}

function compareFields(
  list: List,
  entry: string | null,
  before: Fields,
  after: Fields,
): BookChange[] {
  return [...new Set([...before.keys(), ...after.keys()])].flatMap((field): BookChange[] => {
    const was = before.get(field) ?? null;
    const is = after.get(field) ?? null;
    if (isSame(field, was, is)) return [];
    return [{ list, entry, change: 'changed', field, before: was, after: is }];
  });
}

function isSame(field: string, a: Scalar, b: Scalar): boolean {
  if (a === b) return true;
  if (typeof a !== 'string' || typeof b !== 'string' || WORDS.has(field)) return false;
  if (!decimalSchema.safeParse(a).success || !decimalSchema.safeParse(b).success) return false;
  const [one, other] = [ratioOf(a), ratioOf(b)];
  return one.numerator * other.denominator === other.numerator * one.denominator;
}

/** Fields in which "10" and "10.0" are two texts and not one number. */
const WORDS = new Set(['name', 'supplier', 'code', 'accessGroup']);

function fieldsOf(value: object, at = ''): Map<string, Scalar> {
  const fields = new Map<string, Scalar>();
  for (const [name, inner] of Object.entries(value)) {
    const path = at === '' ? name : `${at}.${name}`;
    if (inner === undefined) continue;
    if (typeof inner !== 'object' || inner === null) fields.set(path, inner);
    else if (isListOfNumbers(inner)) fields.set(path, inner.join(' '));
    else for (const [deeper, scalar] of fieldsOf(inner, path)) fields.set(deeper, scalar);
  }
  return fields;
}

function isListOfNumbers(value: object): value is number[] {
  return Array.isArray(value) && value.every((each) => typeof each === 'number');
}

function coded<Entry extends { code: string }>(entries: readonly Entry[]): Map<string, Entry> {
  return new Map(entries.map((entry) => [entry.code, entry]));
}

/** Of periods the order counts too: they are tried one after the other. */
function ranked<Entry extends { code: string }>(entries: readonly Entry[]) {
  return new Map(entries.map((entry, at) => [entry.code, { place: at + 1, ...entry }]));
}

function placed<Entry extends object>(entries: readonly Entry[]): Map<string, Entry> {
  return new Map(entries.map((entry, at) => [String(at + 1), entry]));
}

/** A catalog has far more parts than costs. */
function rememberingPricer(tiers: PartTiers): (costCents: number) => number {
  const pricePart: PartPricer = partPricer(tiers);
  const known = new Map<number, number>();
  return (costCents) => {
    const price = known.get(costCents) ?? pricePart(cents(costCents)).unitPriceCents;
    known.set(costCents, price);
    return price;
  };
}
