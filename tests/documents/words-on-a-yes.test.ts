import { expect, test } from 'vitest';
import { acceptanceWords } from '../../src/documents/acceptance-words.ts';
import { invoiceWords } from '../../src/documents/invoice-words.ts';
import { generalTerms } from '../../src/quotes/general-terms.ts';

// A yes may be told at the kitchen table and put on record by whoever heard it.
test.each(['en', 'es'] as const)(
  'no paper says of every yes that it was in writing (%s)',
  (language) => {
    const said = [
      invoiceWords[language].notAsAgreed('555-0140'),
      ...acceptanceWords[language].nextSteps,
      ...generalTerms[language].map(({ text }) => text),
    ].join(' ');
    expect(said).toMatch(/yes|sí/);
    expect(said).not.toMatch(/in writing|written (yes|approval|consent)|por escrito/i);
  },
);
