import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { canonicalJson } from '../../src/platform/canonical-json.ts';
import { sha256 } from '../../src/platform/sha256.ts';
import { addSite, arriveAtJob, draftQuote, findCapacitor, issueQuote } from '../harness/job.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

describe('the paper of a quote', () => {
  it('does not exist before the quote is issued', async () => {
    const quote = await draftedQuote();
    const refused = await service.as('technician').get(`/v1/quotes/${quote.body.id}/paper`);
    expect(expectProblem(refused, 'not-allowed-now').body).toMatchObject({
      currentState: 'draft',
      allowedActions: ['issue', 'withdraw', 'revise'],
    });
  });

  it('is made once when ten ask for it at once, and all ten get the same bytes', async () => {
    const quote = await issueQuote(service, await draftedQuote());
    const asked = Array.from({ length: 10 }, () => paper(quote.body.id));
    const papers = await Promise.all(asked);
    const [first] = papers;
    expect(new Set(papers.map(({ bytes }) => sha256(bytes))).size).toBe(1);
    expect(new Set(papers.map(({ etag }) => etag))).toEqual(
      new Set([`"${sha256(first?.bytes ?? '')}"`]),
    );
    expect(await counted(quote.body.id)).toEqual({ papers: 1, documents: 1, entries: 1 });
  });

  it('is the same tomorrow, byte for byte, whatever was renamed since', async () => {
    const site = await addSite(service);
    const quote = await issueQuote(service, await draftedQuote(site));
    const before = await paper(quote.body.id);
    const dispatcher = service.as('dispatcher');
    const customer = await dispatcher.get(`/v1/customers/${site.customerId}`);
    expectStatus(
      await dispatcher.patch(
        `/v1/customers/${site.customerId}`,
        { name: 'Somebody Else' },
        { ifMatch: customer.headers['etag'] ?? '' },
      ),
      200,
    );
    service.clock.advance(86_400_000);
    const after = await paper(quote.body.id);
    expect(after.etag).toBe(before.etag);
    expect(after.bytes.equals(before.bytes)).toBe(true);
  });

  it('shows the names as they were when it was issued, also when it is drawn later', async () => {
    const site = await addSite(service);
    const quote = await issueQuote(service, await draftedQuote(site));
    await service.owner.query("UPDATE customer SET name = 'Somebody Else' WHERE id = $1", [
      site.customerId,
    ]);
    const drawn = await service.owner.query<{ paper: { customer: object } }>(
      'SELECT paper FROM quote_issue WHERE quote_id = $1',
      [quote.body.id],
    );
    expect(drawn.rows[0]?.paper.customer).toEqual({ name: 'Winifred Ashgrove' });
    expectStatus(await service.as('owner').get(`/v1/quotes/${quote.body.id}/paper`), 200);
  });

  it('tells of a fault once that was written twice, as it is priced once', async () => {
    const job = await arriveAtJob(service);
    const twice = [await findCapacitor(service, job), await findCapacitor(service, job)];
    const quote = await issueQuote(service, await draftQuote(service, job, twice));
    const issued = await service.owner.query<{ paper: { findings: { name: string }[] } }>(
      'SELECT paper FROM quote_issue WHERE quote_id = $1',
      [quote.body.id],
    );
    expect(issued.rows[0]?.paper.findings.map(({ name }) => name)).toEqual([
      'Weak or failed run capacitor, compressor section',
    ]);
  });

  it('is a PDF with a name to save it by, not sent again to whoever has it', async () => {
    const quote = await issueQuote(service, await draftedQuote());
    const { headers, bytes, etag } = await paper(quote.body.id);
    expect(headers).toMatchObject({
      'content-type': 'application/pdf',
      'content-disposition': `inline; filename="quote-${quote.body.number}-r1.pdf"`,
    });
    expect(bytes.subarray(0, 5).toString()).toBe('%PDF-');
    const again = await service
      .as('technician')
      .get(`/v1/quotes/${quote.body.id}/paper`, { 'if-none-match': etag });
    expectStatus(again, 304);
    expect(again.text ?? '').toBe('');
  });

  it('of an earlier revision stays, beside that of the new one', async () => {
    const quote = await issueQuote(service, await draftedQuote());
    const first = await paper(quote.body.id);
    const technician = service.as('technician');
    const path = `/v1/quotes/${quote.body.id}`;
    const revised = await technician.post(
      `${path}/revise`,
      { options: [{ title: 'Nothing for now', findingIds: [] }] },
      { ifMatch: quote.tag },
    );
    const tag = expectStatus(revised, 200).headers['etag'] ?? '';
    expectStatus(await technician.post(`${path}/issue`, {}, { ifMatch: tag }), 200);
    const second = await paper(quote.body.id);
    expect(second.etag).not.toBe(first.etag);
    expect(second.headers['content-disposition']).toContain('-r2.pdf');
    expect((await paper(quote.body.id, '?revision=1')).etag).toBe(first.etag);
    expectProblem(await technician.get(`${path}/paper?revision=3`), 'not-found');
  });

  it('is there in Spanish too, under the one hash that the customer’s yes names', async () => {
    const quote = await issueQuote(service, await draftedQuote());
    const english = await paper(quote.body.id, '?language=en');
    const spanish = await paper(quote.body.id, '?language=es');
    expect(spanish.headers['content-disposition']).toContain('presupuesto-');
    expect(spanish.bytes.subarray(0, 5).toString()).toBe('%PDF-');
    expect(spanish.etag).not.toBe(english.etag);
    expect((await paper(quote.body.id)).etag).toBe(english.etag);
    const { rows } = await service.owner.query<{ paper: object; content_hash: string }>(
      'SELECT paper, content_hash FROM quote_issue WHERE quote_id = $1',
      [quote.body.id],
    );
    expect(rows[0]?.paper).toMatchObject({ language: 'en', inSpanish: { language: 'es' } });
    expect(rows[0]?.content_hash).toBe(sha256(canonicalJson(rows[0]?.paper)));
    expect(await counted(quote.body.id)).toEqual({ papers: 2, documents: 2, entries: 2 });
  });

  it('that was issued before there was Spanish is there in English alone', async () => {
    const quote = await issueQuote(service, await draftedQuote());
    await withoutSpanish(quote.body.id);
    expect((await paper(quote.body.id)).bytes.length).toBeGreaterThan(1000);
    const technician = service.as('technician');
    const refused = await technician.get(`/v1/quotes/${quote.body.id}/paper?language=es`);
    expectProblem(refused, 'not-found');
  });
});

async function draftedQuote(site?: Awaited<ReturnType<typeof addSite>>) {
  const job = await arriveAtJob(service, site);
  return draftQuote(service, job, [await findCapacitor(service, job)]);
}

/** The paper as bytes, past a client that would read it as text. */
async function paper(quoteId: string, query = '') {
  const answer = await service.app.inject({
    method: 'GET',
    url: `/v1/quotes/${quoteId}/paper${query}`,
    headers: { authorization: `Bearer ${service.staff.technician.token}` },
  });
  expect(answer.statusCode).toBe(200);
  return {
    bytes: answer.rawPayload,
    headers: answer.headers,
    etag: String(answer.headers['etag']),
  };
}

/** Makes a quote one of an earlier time; the guard that keeps papers as they are looks away once. */
async function withoutSpanish(quoteId: string): Promise<void> {
  const { rows } = await service.owner.query<{ paper: Record<string, unknown> }>(
    'SELECT paper FROM quote_issue WHERE quote_id = $1',
    [quoteId],
  );
  const { inSpanish: _, ...english } = rows[0]?.paper ?? {};
  const text = canonicalJson(english);
  await service.owner.query('ALTER TABLE quote_issue DISABLE TRIGGER USER');
  await service.owner.query(
    'UPDATE quote_issue SET paper = $2, content_hash = $3 WHERE quote_id = $1',
    [quoteId, text, sha256(text)],
  );
  await service.owner.query('ALTER TABLE quote_issue ENABLE TRIGGER USER');
}

async function counted(quoteId: string): Promise<unknown> {
  const found = await service.owner.query(
    `SELECT count(*)::int AS papers, count(DISTINCT f.sha256)::int AS documents,
       (SELECT count(*)::int FROM journal_entry
        WHERE event = 'paper.rendered' AND subject_id = ANY (array_agg(p.id::text))) AS entries
     FROM paper p JOIN paper_file f ON f.paper_id = p.id
     JOIN document d ON d.sha256 = f.sha256
     JOIN quote_revision r ON r.id = p.revision_id WHERE r.quote_id = $1`,
    [quoteId],
  );
  return found.rows[0];
}
