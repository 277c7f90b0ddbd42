import { describe, expect, it } from 'vitest';
import { drawToSeal, sealPaper } from '../../src/proof/index.ts';
import { verifyPaper } from '../../src/proof/verify-paper.ts';
import { dearer, key, keys } from './sealed-papers.ts';

describe('a paper of a company that is called like a part of the format', () => {
  it.each(['Blue trailer Cooling', '1 0 obj xref', 'startxref %%EOF /Linearized'])(
    'as %s, is drawn, signed and genuine',
    async (name) => {
      const { bytes } = await sealPaper({
        paper: { kind: 'quote', paper: { ...dearer, company: { ...dearer.company, name } } },
        number: dearer.quoteNumber,
        language: dearer.language,
        pageUrl: `https://trailer.example/paper/${'ab'.repeat(32)}`,
        key,
        draw: drawToSeal,
      });
      expect((await verifyPaper(bytes, keys)).verdict).toBe('genuine');
    },
    30_000,
  );
});
