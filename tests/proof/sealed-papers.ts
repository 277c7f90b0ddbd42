import { createPrivateKey } from 'node:crypto';
import type { PaperSheet, QuotePaper } from '../../src/documents/index.ts';
import { drawToSeal } from '../../src/proof/draw-to-seal.ts';
import { paperKeyOf } from '../../src/proof/load-paper-key.ts';
import { sealPaper } from '../../src/proof/seal-paper.ts';
import { lumpSum } from '../documents/sample-papers.ts';

/** The key pair of RFC 8037, appendix A.1 and A.2: published, so that nothing real rests on it. */
export const RFC_8037_KEY = {
  kty: 'OKP',
  crv: 'Ed25519',
  d: 'nWGxne_9WmC6hEr0kuwsxERJxWl7MmkZcDusAxyuf2A',
  x: '11qYAYKxCrfVS_7TyWQHOg7hcvPapiMlrwIaaPcHURo',
} as const;

export const key = paperKeyOf(createPrivateKey({ key: RFC_8037_KEY, format: 'jwk' }));
export const keys = { keys: [key.publicKey] };

/** The same quote as `lumpSum` at ten times the price. */
export const dearer: QuotePaper = {
  ...lumpSum,
  options: lumpSum.options.map((option) => ({
    ...option,
    prices: { ...option.prices, kind: 'lump_sum', priceCents: 382_100 },
    totalCents: 382_100,
  })),
};

/** A quote as the papers room would seal it. */
export async function sealQuote(paper: QuotePaper, signer = key): Promise<PaperSheet> {
  const pageUrl = `https://service.example.com/paper/${paper.contentHash}`;
  const sealed = { number: paper.quoteNumber, language: paper.language, pageUrl };
  const { sheet } = await sealPaper({
    ...sealed,
    paper: { kind: 'quote', paper },
    key: signer,
    draw: drawToSeal,
  });
  return sheet;
}
