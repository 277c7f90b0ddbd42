import type { Mutation } from './mutation.ts';

/** Mistakes about bills that we did not compute: reading them, and what they are held against. */
export const billMutations: readonly Mutation[] = [
  {
    breaks:
      'A word that nobody knows is passed over, so that a bill is read as saying something else.',
    file: 'src/auditing/bills/read-segment.ts',
    find: "if (tags.some(({ is }) => is === 'unknown' || is === 'small_material')) return { is: 'unclear' };",
    replace: '',
    caughtBy: {
      file: 'tests/auditing/bills/read-work.test.ts',
      name: 'one strange word anywhere in a sentence is enough to leave it alone',
    },
  },
  {
    breaks: 'Work that was advised against or refused is priced as if it had been done.',
    file: 'src/auditing/bills/read-segment.ts',
    find: 'if (notDoneAt >= 0) {',
    replace: 'if (notDoneAt >= tags.length) {',
    caughtBy: {
      file: 'tests/auditing/bills/read-work.test.ts',
      name: 'no wording that is refused work becomes work',
    },
  },
  {
    breaks:
      'A bill is held against the cheapest part it may have been, and looks dearer than it is.',
    file: 'src/auditing/bills/fair-book.ts',
    find: 'return b.costCents - a.costCents;',
    replace: 'return a.costCents - b.costCents;',
    caughtBy: {
      file: 'tests/auditing/bills/bill-facts-of.test.ts',
      name: 'gives whoever billed the dearer part where the bill leaves a choice, and says so',
    },
  },
  {
    breaks: 'A bill that says that it has no tax is held against a price with tax in it.',
    file: 'src/auditing/bills/bill-facts-of.ts',
    find: 'return taxCents === 0 ? undefined : tax;',
    replace: 'return taxCents === 0 ? tax : tax;',
    caughtBy: {
      file: 'tests/auditing/bills/bill-facts-of.test.ts',
      name: 'has our tax in it where the bill does not tell its own apart',
    },
  },
  {
    breaks: 'A bill comes to less than its own lines, and nobody who loads it is told.',
    file: 'src/imported-bills/read-bill-row.ts',
    find: 'if (sum <= charged) return [];',
    replace: 'if (sum >= 0) return [];',
    caughtBy: {
      file: 'tests/imported-bills/read-bill-row.test.ts',
      name: 'says by how much a bill is less than what it is told apart into',
    },
  },
  {
    breaks: 'Bills keep the judgement of an old price book for ever.',
    file: 'src/imported-bills/judge-anew.ts',
    find: 'AND (ruleset_version <> $2 OR price_book_version_id <> $3)',
    replace: 'AND ruleset_version <> $2 AND $3::uuid IS NOT NULL',
    caughtBy: {
      file: 'tests/imported-bills/imported-bills.test.ts',
      name: 'judges every bill again, also those of files taken in before',
    },
    database: true,
  },
  {
    breaks: 'A verb after a comma is taken for all that was named before it.',
    file: 'src/auditing/bills/share-verb.ts',
    find: 'return goesOn && !afterComma && thingAt >= 0',
    replace: 'return goesOn && thingAt >= 0',
    caughtBy: {
      file: 'tests/auditing/bills/read-work.test.ts',
      name: 'capacitor, contactor replaced',
    },
  },
  {
    breaks: 'A bad compressor that was found is priced as one that was replaced.',
    file: 'src/auditing/bills/share-verb.ts',
    find: "const mayBeListed: ReadonlySet<string> = new Set([\n  'thing',",
    replace: "const mayBeListed: ReadonlySet<string> = new Set([\n  'wrong',\n  'thing',",
    caughtBy: {
      file: 'tests/auditing/bills/read-work.test.ts',
      name: 'bad compressor and capacitor replaced',
    },
  },
  {
    breaks: 'Of two bills of the same total the one that tells its tax is too dear by less.',
    file: 'src/auditing/rules/over-fair-price.ts',
    find: '...(isTaxed ? [tax] : [])',
    replace: '...(isTaxed ? [] : [])',
    caughtBy: {
      file: 'tests/auditing/rules/above-ceiling.test.ts',
      name: 'a bill that tells its tax is too much by its tax as well',
    },
  },
  {
    breaks: 'A bad breaker is taken for one that only tripped.',
    file: 'src/auditing/bills/read-found-reset.ts',
    find: "(verb === 'reset' && !isTripped)",
    replace: "(verb === 'reset' && wrongs.length > 9 && !isTripped)",
    caughtBy: {
      file: 'tests/auditing/bills/found-reset.test.ts',
      name: 'a breaker that is bad',
    },
  },
  {
    breaks: 'A bill that tells no hour is held against the cheapest of ours.',
    file: 'src/auditing/bills/fair-price-of.ts',
    find: 'const fair = others.reduce(dearer, answer.fair);',
    replace: 'const fair = others.length >= 0 ? answer.fair : others.reduce(dearer, answer.fair);',
    caughtBy: {
      file: 'tests/auditing/bills/bill-facts-of.test.ts',
      name: 'is the dearest of our hours where nobody knows when somebody came',
    },
  },
];
