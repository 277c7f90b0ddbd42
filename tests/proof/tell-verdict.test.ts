import { describe, expect, it } from 'vitest';
import type { Difference, ProofVerdict } from '../../src/proof/index.ts';
import { tellVerdict } from '../../src/proof/index.ts';

const paper = {
  kind: 'invoice',
  number: '2041',
  language: 'en',
  renderer: 'evenhand-paper-6',
  kid: 'k',
} as const;

/** One of each, so that a kind without words would fail to compile here. */
const differences: Record<Difference['kind'], Difference> = {
  words: { kind: 'words', page: 2, says: '$1,850.00', signed: '$185.00' },
  page_added: { kind: 'page_added', page: 3 },
  page_missing: { kind: 'page_missing', page: 3 },
  page_order: { kind: 'page_order' },
  page_shape: { kind: 'page_shape', page: 1 },
  drawing: { kind: 'drawing', page: 1 },
  overlay: { kind: 'overlay', page: 1, overlay: 'field' },
  script: { kind: 'script' },
  locked: { kind: 'locked' },
  title: { kind: 'title', says: 'Paid', signed: 'Invoice 2041' },
  attachment_added: { kind: 'attachment_added', name: 'bank.txt' },
  appended: { kind: 'appended' },
  undrawable: { kind: 'undrawable' },
};

const allDifferences = { told: Object.values(differences), untold: 3 };
const none = { told: [], untold: 0 };
const verdicts: ProofVerdict[] = [
  { verdict: 'genuine', paper },
  { verdict: 'same_pages', paper },
  { verdict: 'unsure', paper, cause: 'saved_again', differences: none },
  { verdict: 'unsure', paper, cause: 'earlier_release', differences: allDifferences },
  { verdict: 'altered', paper, signature: 'good', differences: allDifferences },
  { verdict: 'altered', paper, signature: 'bad', differences: allDifferences },
  { verdict: 'altered', paper, signature: 'bad', differences: none },
  { verdict: 'unknown_key', kid: 'other' },
  { verdict: 'not_ours' },
  ...(['not_a_pdf', 'locked', 'damaged', 'too_large', 'too_much_work'] as const).map(
    (cause) => ({ verdict: 'unreadable', cause }) as const,
  ),
];

function lines(verdict: ProofVerdict, language: 'en' | 'es'): string[] {
  const { headline, differences, meaning } = tellVerdict(verdict, language);
  return [headline, ...differences, meaning];
}

describe('a verdict is told to a customer', () => {
  it('in the words of the guarantee: the page, what it says, what was signed', () => {
    const [, first] = lines(
      { verdict: 'altered', paper, signature: 'good', differences: allDifferences },
      'en',
    );
    expect(first).toBe('Page 2 says $1,850.00; the signed data says $185.00.');
  });

  it('in Spanish just as exactly', () => {
    const said = lines(
      { verdict: 'altered', paper, signature: 'good', differences: allDifferences },
      'es',
    );
    expect(said[1]).toBe('La página 2 dice $1,850.00; los datos firmados dicen $185.00.');
    expect(said.at(-2)).toBe('3 diferencias más.');
    expect(lines({ verdict: 'genuine', paper }, 'es')[0]).toBe(
      'Auténtico: este es nuestro documento, factura 2041.',
    );
  });

  it.each(['en', 'es'] as const)('in whole sentences, each verdict in its own: %s', (language) => {
    const said = verdicts.map((verdict) => lines(verdict, language));
    for (const line of said.flat()) expect(line).toMatch(/^[A-Z3].{8,400}\.$/s);
    expect(new Set(said.map((each) => each.join(' '))).size).toBe(verdicts.length);
  });

  it('in one language at a time', () => {
    for (const verdict of verdicts) {
      const spanish = lines(verdict, 'es');
      for (const line of lines(verdict, 'en')) expect(spanish).not.toContain(line);
    }
  });

  it('with where to ask whether it still stands, if its data are ours', () => {
    const pageUrl = 'https://service.example.com/paper/1';
    const known = { ...paper, pageUrl };
    const asked = (verdict: ProofVerdict) => tellVerdict(verdict, 'en').stillStands;
    const altered = { verdict: 'altered', paper: known, differences: none } as const;
    expect(asked({ verdict: 'genuine', paper: known })).toBe(
      `Whether it still stands is told at ${pageUrl}`,
    );
    expect(asked({ ...altered, signature: 'good' })).toContain(pageUrl);
    // A forger would lead the reader to a page of his own.
    expect(asked({ ...altered, signature: 'bad' })).toBeUndefined();
    expect(asked({ verdict: 'genuine', paper })).toBeUndefined();
    expect(asked({ verdict: 'not_ours' })).toBeUndefined();
  });

  it('calls nothing genuine but the very file that we made', () => {
    for (const language of ['en', 'es'] as const) {
      const words = language === 'en' ? /genuine/i : /aut[eé]ntic/i;
      const said = verdicts.map((verdict) => words.test(lines(verdict, language).join(' ')));
      expect(said).toEqual(verdicts.map(({ verdict }) => verdict === 'genuine'));
    }
  });

  it.each([
    ['a screen cleared', '\u001b[2J\u001b[H\u009b31mPaid', '[2J [H 31mPaid'],
    ['letters turned around', 'a\u202egnp\u2066b', 'a gnp b'],
    ['lines of its own', 'a\r\nb\u2028c\u2029d\u0085e', 'a b c d e'],
    ['letters without a shape', 'a\u200bb\ufeffc\u{e0041}d\u3164e', 'a b c d e'],
    ['half letters', 'a\ud800b', 'a b'],
    ['an end of the quotation', 'a" was not. «b»', "a' was not. 'b'"],
    ['marks piled up', `a${'\u0336'.repeat(50)}`, 'a\u0336\u0336'],
    ['no end', 'x'.repeat(5_000), `${'x'.repeat(160)}…`],
    ['ñ, é and 中 as they are', 'Señor José 中', 'Señor José 中'],
  ])("and quotes a stranger's file without %s", (_, text, quoted) => {
    const strange: Difference[] = [
      { kind: 'attachment_added', name: text },
      { kind: 'title', says: text, signed: text },
      { kind: 'words', page: 1, says: text, signed: text },
    ];
    const told = lines(
      { verdict: 'altered', paper, signature: 'good', differences: { told: strange, untold: 0 } },
      'en',
    );
    expect(told.slice(1, 4)).toEqual([
      `The file "${quoted}" was attached to it, not by us.`,
      `The file is titled "${quoted}"; the signed data says "${quoted}".`,
      `Page 1 says ${quoted}; the signed data says ${quoted}.`,
    ]);
    const number = { ...paper, number: text, pageUrl: text };
    const { headline, stillStands } = tellVerdict({ verdict: 'genuine', paper: number }, 'en');
    expect(headline).toBe(`Genuine: this is our invoice ${quoted}.`);
    expect(stillStands).toBe(`Whether it still stands is told at ${quoted}`);
  });

  it('never calls data signed whose signature fails', () => {
    const bad = {
      verdict: 'altered',
      paper,
      signature: 'bad',
      differences: allDifferences,
    } as const;
    expect(lines(bad, 'en').join(' ')).not.toContain('signed data');
    expect(lines(bad, 'es').join(' ')).not.toContain('datos firmados');
  });
});
