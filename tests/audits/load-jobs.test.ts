import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { taxRule } from '../../seed/company.ts';
import { judgeJob } from '../../src/auditing/index.ts';
import { nothingKnown } from '../../src/audits/known-terms.ts';
import { loadJobs } from '../../src/audits/load-jobs.ts';
import { storeOf } from '../../src/audits/store.ts';
import { bookJob } from '../harness/job.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';
import { type BilledJob, billedJob, overcharge } from './billed-job.ts';

let service: TestService;
let job: BilledJob;
const known = nothingKnown();

beforeAll(async () => {
  service = await createTestService();
  job = await billedJob(service);
});
afterAll(() => service.close());

describe('what is known of a ticket that is over', () => {
  it('is every charge as it stands on the invoice, with the findings that carry it', async () => {
    const { facts } = await load(job.ticketId);
    const [billed] = job.invoice.body.documents;
    expect(facts.ended).toBe('closed');
    expect(facts.documents).toHaveLength(1);
    expect(facts.documents[0]).toMatchObject({
      ...{ invoiceId: job.invoice.body.id, position: 1, kind: 'accepted', credited: [] },
      ...{ quoteId: job.quote.body.id, title: `quote ${job.quote.body.number}` },
      taxLeftCents: billed.taxCents,
      taxInForce: { jurisdiction: expect.any(String) },
      ...{ visitId: job.visitId, parentQuoteId: null },
      // Of the window that was agreed to, by the price book of that day.
      hours: { code: 'regular', laborFactor: '1' },
      agreed: { acceptedAt: job.quote.body.acceptance.acceptedAt },
    });
    expect(facts.documents[0]?.lines.map(({ key, amountCents }) => [key, amountCents])).toEqual(
      billed.lines.map(({ key, amountCents }: { key: string; amountCents: number }) => [
        key,
        amountCents,
      ]),
    );
    const labor = facts.documents[0]?.lines.find(({ kind }) => kind === 'labor');
    expect(labor?.findingIds).toEqual([job.findingId]);
  });

  it('is what was found, done and used, by whom and when', async () => {
    const { facts } = await load(job.ticketId);
    expect(facts.findings).toMatchObject([
      {
        ...{ id: job.findingId, visitId: job.visitId, systemId: job.systemId },
        ...{ faultCode: 'run_capacitor_herm', standing: 'proven', priceable: true },
        ...{ isOverridden: false, lastReadingAt: expect.stringMatching(/Z$/) },
        parts: [{ code: 'CAP-45-5-440', category: 'dual_run_capacitor', warrantedUntil: null }],
      },
    ]);
    expect(facts.visits).toMatchObject([
      { id: job.visitId, purpose: 'call', state: 'finished', leftAt: expect.stringMatching(/Z$/) },
    ]);
    expect(facts.work).toMatchObject({
      outcomes: [{ findingId: job.findingId, outcome: 'done', visitId: job.visitId }],
      uses: [{ partCode: 'CAP-45-5-440', quantity: '1', visitId: job.visitId }],
    });
    expect(facts.refrigerant).toMatchObject({ gaugesUsed: false, movesRecorded: 0 });
    expect(facts.earlierRepairs).toEqual([]);
  });

  it('is nothing of a ticket that is not over', async () => {
    const open = await bookJob(service);
    expect(await loadAll([open.ticketId])).toEqual([]);
  });

  it('is what a credit left of a charge, and of the tax', async () => {
    const other = await billedJob(service);
    const [document] = other.invoice.body.documents;
    const part = document.lines.find(({ kind }: { kind: string }) => kind === 'part');
    const memo = {
      ...{ kind: 'goodwill', reason: 'We came late.' },
      lines: [{ document: 1, key: part.key, amountCents: part.amountCents }],
    };
    const path = `/v1/invoices/${other.invoice.body.id}/credit-memos`;
    const made = await service.as('owner').post(path, memo, { ifMatch: other.invoice.tag });
    expectStatus(made, 201);
    const { facts } = await load(other.ticketId);
    expect(facts.documents[0]).toMatchObject({
      credited: [{ key: part.key, amountCents: part.amountCents }],
      taxLeftCents: document.taxCents - made.body.taxCents,
    });
  });

  it('is the earlier repair of the same system, for whoever finds something there again', async () => {
    service.clock.advance(3_600_000);
    const again = await billedJob(service, job);
    const { facts } = await load(again.ticketId);
    expect(facts.earlierRepairs).toMatchObject([
      {
        ...{ findingId: job.findingId, systemId: job.systemId, faultCode: 'run_capacitor_herm' },
        visitId: job.visitId,
        arrivedAt: expect.stringMatching(/Z$/),
        partCategories: ['dual_run_capacitor'],
      },
    ]);
    expect((await load(job.ticketId)).facts.earlierRepairs).toEqual([]);
  });
});

describe('the same facts', () => {
  it('have one hash, and others have another', async () => {
    const other = await billedJob(service);
    const before = await load(other.ticketId);
    expect((await load(other.ticketId)).factsHash).toBe(before.factsHash);
    await overcharge(service, other, 4_000);
    const after = await load(other.ticketId);
    expect(after.factsHash).not.toBe(before.factsHash);
    expect(judgeJob(after.facts)).toBeDefined();
  });
});

describe('many tickets', () => {
  it('are loaded with as many statements as one', async () => {
    const some: string[] = [];
    for (let count = 0; count < 3; count += 1) some.push((await billedJob(service)).ticketId);
    // The books are on the shelf.
    await loadAll(some);
    const [one] = some;
    expect(await statementsFor(some)).toBe(await statementsFor([one ?? '']));
  });
});

describe('the tax rules in force', () => {
  it('are those of now, whatever was read of their jurisdiction before', async () => {
    const before = await load(job.ticketId);
    const day = before.facts.documents[0]?.agreed?.acceptedOn ?? '';
    const rule = { ...taxRule, rate: '0.095', effectiveFrom: day };
    expectStatus(await service.as('owner').post('/v1/tax-rules', rule), 201);
    const { facts, factsHash } = await load(job.ticketId);
    expect(facts.documents[0]?.taxInForce).toMatchObject({ rate: '0.095' });
    expect(factsHash).not.toBe(before.factsHash);
  });
});

async function loadAll(ticketIds: readonly string[]) {
  return service.db.transact((tx) => loadJobs(storeOf(tx), ticketIds, known), 'ReadCommitted');
}

async function load(ticketId: string) {
  const [loaded] = await loadAll([ticketId]);
  if (loaded === undefined) throw new Error('the ticket is not over');
  return loaded;
}

async function statementsFor(ticketIds: readonly string[]): Promise<number> {
  return service.db.transact(async (tx) => {
    let count = 0;
    const { prisma, sql } = storeOf(tx);
    const counted = {
      query: (...args: Parameters<typeof sql.query>) => {
        count += 1;
        return sql.query(...args);
      },
    } as typeof sql;
    await loadJobs({ prisma, sql: counted }, ticketIds, known);
    return count;
  }, 'ReadCommitted');
}
