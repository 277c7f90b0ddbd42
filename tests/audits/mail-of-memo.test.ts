import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { mailOfMemo } from '../../src/audits/mail-of-memo.ts';
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

describe('the mail of a memo', () => {
  it('has the letter that was frozen with the answer of its flag', async () => {
    expect(await letterOf(first)).toEqual({ language: 'en', text: first.letter });
    expect(await letterOf(second)).toEqual({ language: 'en', text: second.letter });
    expect(first.letter).not.toBe(second.letter);
  });

  it('has none of a memo that was written by hand', async () => {
    const invoice = await readInvoice(service, first.job.invoice.body.id);
    const credit = creditOf(invoice, 'labor', 500);
    const made = expectStatus(await sendMoney(service, invoice, 'credit-memos', credit), 201);
    expect(await mailOfMemo(service.db.prisma, made.body.id)).toEqual({ otherPaperIds: [] });
  });

  it('tells one payer nothing of what goes back to another', async () => {
    // Two invoices of one ticket, as where the payer of the site has changed between them.
    await pastGuards(
      service,
      ['UPDATE audit_answer_memo SET flag_id = $1 WHERE flag_id = $2'],
      [first.flagId, second.flagId],
    );
    for (const each of [first, second]) {
      expect(await letterOf(each)).toBeUndefined();
      expect(await othersOf(each)).toEqual([]);
    }
    await pastGuards(
      service,
      [
        `UPDATE invoice SET payer_id = (SELECT payer_id FROM invoice WHERE id = $1)
         WHERE id = $2`,
      ],
      [first.job.invoice.body.id, second.job.invoice.body.id],
    );
    // The one mail of both is that of the first.
    expect(await letterOf(first)).toEqual({ language: 'en', text: first.letter });
    expect(await othersOf(first)).toEqual([await paperOf(second)]);
    expect(await letterOf(second)).toBeUndefined();
    expect(await othersOf(second)).toEqual([]);
  });
});

async function letterOf({ memoId }: PutRight) {
  return (await mailOfMemo(service.db.prisma, memoId)).letter;
}

async function othersOf({ memoId }: PutRight) {
  return (await mailOfMemo(service.db.prisma, memoId)).otherPaperIds;
}

async function paperOf({ memoId }: PutRight): Promise<string> {
  const { id } = await service.db.prisma.paper.findUniqueOrThrow({ where: { memoId } });
  return id;
}

async function putRight(): Promise<PutRight> {
  const { job, flagId, tag } = await flaggedJob(service);
  const path = `/v1/audit/flags/${flagId}/accept`;
  const accepted = await service.as('owner').post(path, {}, { ifMatch: tag });
  const { answer } = expectStatus(accepted, 200).body;
  return { job, flagId, letter: answer.letter.text, memoId: answer.creditMemos[0].id };
}
