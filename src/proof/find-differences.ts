import { differingWords } from './differing-words.ts';
import type { Difference, Differences } from './proof-verdict.ts';
import type { SeenFile, SeenPage } from './read-seen-file.ts';

/**
 * What a file shows that the file drawn from its data does not show, and the other way round: both
 * read by the same reader.
 */
export function findDifferences(found: SeenFile, drawn: SeenFile): Difference[] {
  return [
    ...pageDifferences(found.pages, drawn.pages),
    ...(found.title === drawn.title
      ? []
      : [{ kind: 'title', says: found.title, signed: drawn.title } as const]),
    ...(found.hasScript ? [{ kind: 'script' } as const] : []),
    ...(found.isLocked ? [{ kind: 'locked' } as const] : []),
  ];
}

/** Puts what hurts most first, and keeps the list short enough to be read. */
export function mostTelling(differences: readonly Difference[]): Differences {
  const sorted = [...differences].sort((a, b) => rank(a) - rank(b));
  return { told: sorted.slice(0, TOLD_MAX), untold: Math.max(0, sorted.length - TOLD_MAX) };
}

const TOLD_MAX = 12;

function rank(difference: Difference): number {
  if (difference.kind !== 'words') return OTHER_RANK[difference.kind];
  const both = `${difference.says} ${difference.signed}`;
  if (both.includes('$')) return 0;
  return /\d/.test(both) ? 1 : 2;
}

const OTHER_RANK: Record<Exclude<Difference['kind'], 'words'>, number> = {
  undrawable: 0,
  page_added: 1,
  page_missing: 1,
  page_order: 1,
  overlay: 3,
  drawing: 3,
  page_shape: 3,
  title: 3,
  script: 4,
  appended: 5,
  attachment_added: 5,
  locked: 6,
};

function pageDifferences(found: readonly SeenPage[], drawn: readonly SeenPage[]): Difference[] {
  const rest = [...drawn.keys()];
  const unmatched: number[] = [];
  const pairs: { at: number; drawnAt: number }[] = [];
  for (const [at, page] of found.entries()) {
    const match = rest.findIndex((drawnAt) => isSameText(page, drawn[drawnAt]));
    const [drawnAt] = match === -1 ? [] : rest.splice(match, 1);
    if (drawnAt === undefined) unmatched.push(at);
    else pairs.push({ at, drawnAt });
  }
  // Of the pages whose texts agree with none, each is held against the one drawn in its place.
  const changed = unmatched.map((at, index) => ({ at, drawnAt: rest[index] }));
  const missing = rest.slice(unmatched.length);
  return [
    ...changed.flatMap(({ at, drawnAt }) => changedPage(at, found[at], drawn[drawnAt ?? -1])),
    ...missing.map((drawnAt) => ({ kind: 'page_missing', page: drawnAt + 1 }) as const),
    ...(isInOrder(pairs) ? [] : [{ kind: 'page_order' } as const]),
    ...pairs.flatMap(({ at, drawnAt }) => sameTextPage(at, found[at], drawn[drawnAt])),
  ];
}

function changedPage(
  at: number,
  page: SeenPage | undefined,
  drawn: SeenPage | undefined,
): Difference[] {
  if (page === undefined || drawn === undefined) return [{ kind: 'page_added', page: at + 1 }];
  const words = differingWords(page.words, drawn.words);
  return [
    ...words.map((parting) => ({ kind: 'words', page: at + 1, ...parting }) as const),
    ...frameDifferences(at, page, drawn),
  ];
}

function sameTextPage(
  at: number,
  page: SeenPage | undefined,
  drawn: SeenPage | undefined,
): Difference[] {
  if (page === undefined || drawn === undefined) return [];
  const isDrawnOtherwise = page.drawing !== drawn.drawing;
  return [
    ...(isDrawnOtherwise ? [{ kind: 'drawing', page: at + 1 } as const] : []),
    ...frameDifferences(at, page, drawn),
  ];
}

function frameDifferences(at: number, page: SeenPage, drawn: SeenPage): Difference[] {
  const shape = page.shape === drawn.shape ? [] : [{ kind: 'page_shape', page: at + 1 } as const];
  const overlays = [...new Set(page.overlays)].map(
    (overlay) => ({ kind: 'overlay', page: at + 1, overlay }) as const,
  );
  return [...shape, ...overlays];
}

function isSameText(a: SeenPage, b: SeenPage | undefined): boolean {
  return b !== undefined && a.words.join('') === b.words.join('');
}

function isInOrder(pairs: readonly { drawnAt: number }[]): boolean {
  return pairs.every(({ drawnAt }, index) => drawnAt > (pairs[index - 1]?.drawnAt ?? -1));
}
