import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { cash, sendMoney } from '../harness/invoice.ts';
import { readInvoice } from '../harness/read-invoice.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';
import { flaggedJob } from './judged.ts';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

/** Of a job whose labor was $40.00 too much. @param paidOf what was paid, given the total */
async function letterAfter(paidOf: (totalCents: number) => number): Promise<string> {
  const { job, flagId, tag } = await flaggedJob(service);
  const invoice = await readInvoice(service, job.invoice.body.id);
  const amountCents = paidOf(invoice.body.totalCents);
  if (amountCents > 0) {
    expectStatus(await sendMoney(service, invoice, 'payments', cash(amountCents)), 201);
  }
  const path = `/v1/audit/flags/${flagId}/accept`;
  const accepted = await service.as('owner').post(path, {}, { ifMatch: tag });
  return expectStatus(accepted, 200).body.answer.letter.text;
}

describe('the letter of a correction', () => {
  it('says what is left to pay', async () => {
    const letter = await letterAfter((totalCents) => totalCents - 10_000);
    expect(letter).toContain('tax included.\nThat leaves $60.00 to pay.\n');
  });

  it('says what is paid back to somebody who has paid more than that', async () => {
    const letter = await letterAfter((totalCents) => totalCents - 1_500);
    expect(letter).toContain(
      'With that you have paid $25.00 more than you owe, and we pay it back.',
    );
  });

  it('says that nothing is left', async () => {
    const letter = await letterAfter((totalCents) => totalCents - 4_000);
    expect(letter).toContain('That leaves nothing to pay.');
    expect(letter).not.toContain('pay it back');
  });
});
