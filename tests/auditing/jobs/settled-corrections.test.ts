import { describe, expect, it } from 'vitest';
import type { Correction, JobDocument } from '../../../src/auditing/index.ts';
import { pricesOf } from '../../../src/auditing/jobs/prices-of.ts';
import { wasPutRight } from '../../../src/auditing/jobs/settled-corrections.ts';
import { cents } from '../../../src/pricing/index.ts';
import { capacitor, documentOf, jobOf, keysOf } from '../job-of.ts';

/*
 * A flag that was put right is none any more; goodwill on anything else puts nothing right. The
 * capacitor's part is 55.20.
 */

const { part, labor } = keysOf(capacitor());
const first = documentOf(jobOf());
const second = { ...first, position: 2 };
const elsewhere = { ...first, invoiceId: 'invoice-2' };

const tooDear: Correction = { invoiceId: 'invoice-1', position: 1, key: part, toCents: cents(0) };

function given(document: JobDocument, key: string, amountCents: number): JobDocument {
  return { ...document, credited: [{ key, amountCents: cents(amountCents) }] };
}

describe('a charge was put right', () => {
  it.each<[string, JobDocument[], boolean]>([
    ['where it was given back', [given(first, part, 5_520), second], true],
    ['where some of it was', [given(first, part, 1), second], true],
    ['not where nothing was', [first, second], false],
    ['not where another charge was', [given(first, labor, 5_520), second], false],
    ['not where it was on another document', [first, given(second, part, 5_520)], false],
    ['not where it was on another invoice', [first, given(elsewhere, part, 5_520)], false],
    ['not where a credit on it was cut', [given(first, part, -1), second], false],
  ])('%s', (_, documents, expected) => {
    expect(wasPutRight({ ...jobOf(), documents }, [tooDear], pricesOf())).toBe(expected);
  });

  it('where one of several was', () => {
    const other = { ...tooDear, key: labor };
    const documents = [given(first, part, 5_520)];
    expect(wasPutRight({ ...jobOf(), documents }, [tooDear, other], pricesOf())).toBe(true);
  });
});
