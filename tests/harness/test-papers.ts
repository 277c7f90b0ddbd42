import { createPrivateKey } from 'node:crypto';
import { renderReport } from '../../src/documents/index.ts';
import { createPaperDesk, type PaperDesk, type PaperDeskOptions } from '../../src/papers/index.ts';
import { drawToSeal } from '../../src/proof/index.ts';
import { paperKeyOf } from '../../src/proof/load-paper-key.ts';
import { recordWork } from '../../src/work/index.ts';

/** The key of RFC 8037, appendix A.1: known to everybody, so it signs nothing but tests. */
export const testKey = paperKeyOf(
  createPrivateKey({
    key: {
      kty: 'OKP',
      crv: 'Ed25519',
      d: 'nWGxne_9WmC6hEr0kuwsxERJxWl7MmkZcDusAxyuf2A',
      x: '11qYAYKxCrfVS_7TyWQHOg7hcvPapiMlrwIaaPcHURo',
    },
    format: 'jwk',
  }),
);

/** What makes papers in tests: it draws on the thread that asks, and has no address of its own. */
export function testPapers(options: Partial<PaperDeskOptions> = {}): PaperDesk {
  return createPaperDesk({
    press: { draw: drawToSeal, drawReport: renderReport },
    key: testKey,
    publicUrl: () => undefined,
    recordWork,
    ...options,
  });
}
