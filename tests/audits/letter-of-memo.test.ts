import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { letterOfMemo } from '../../src/audits/letter-of-memo.ts';
import { creditOf, sendMoney } from '../harness/invoice.ts';
import { readInvoice } from '../harness/read-invoice.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';
import type { BilledJob } from './billed-job.ts';
import { flaggedJob } from './judged.ts';
import { pastGuards } from './past-guards.ts';

interface PutRight {
  job: BilledJob;
  flagId: string;
  letter: string;
  memoId: string;
}

let service: TestService;
let first: PutRight;
let second: PutRight;

beforeAll(async () => {
  service = await createTestService();
  first = await putRight();
  second = await putRight();
});
afterAll(() => service.close());

describe('the letter of a memo', () => {
  it('is the one that was frozen with the answer of its flag', async () => {
    expect(await letterOf(first)).toEqual({ language: 'en', text: first.letter });
    expect(await letterOf(second)).toEqual({ language: 'en', text: second.letter });
    expect(first.letter).not.toBe(second.letter);
  });

  it('is none of a memo that was written by hand', async () => {
    const invoice = await readInvoice(service, first.job.invoice.body.id);
    const credit = creditOf(invoice, 'labor', 500);
    const made = expectStatus(await sendMoney(service, invoice, 'credit-memos', credit), 201);
    expect(await letterOfMemo(service.db.prisma, made.body.id)).toBeUndefined();
  });

  it('tells one payer nothing of what goes back to another', async () => {
    // Two invoices of one ticket, as where the payer of the site has changed between them.
    await pastGuards(
      service,
      ['UPDATE audit_answer_memo SET flag_id = $1 WHERE flag_id = $2'],
      [first.flagId, second.flagId],
    );
    expect(await letterOf(first)).toBeUndefined();
    expect(await letterOf(second)).toBeUndefined();
    await pastGuards(
      service,
      [
        `UPDATE invoice SET payer_id = (SELECT payer_id FROM invoice WHERE id = $1)
         WHERE id = $2`,
      ],
      [first.job.invoice.body.id, second.job.invoice.body.id],
    );
    expect(await letterOf(second)).toEqual({ language: 'en', text: first.letter });
  });
});

function letterOf({ memoId }: PutRight) {
  return letterOfMemo(service.db.prisma, memoId);
}

async function putRight(): Promise<PutRight> {
  const { job, flagId, tag } = await flaggedJob(service);
  const path = `/v1/audit/flags/${flagId}/accept`;
  const accepted = await service.as('owner').post(path, {}, { ifMatch: tag });
  const { answer } = expectStatus(accepted, 200).body;
  return { job, flagId, letter: answer.letter.text, memoId: answer.creditMemos[0].id };
}
