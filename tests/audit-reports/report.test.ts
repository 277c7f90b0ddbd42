import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { inSlices } from '../../src/audit-reports/in-slices.ts';
import type { AuditReport } from '../../src/audit-reports/index.ts';
import { JOBS_MAX, periodOf } from '../../src/audit-reports/period.ts';
import { type Report, renderReport } from '../../src/documents/index.ts';
import { ProblemError } from '../../src/platform/http/problem.ts';
import { drawToSeal } from '../../src/proof/index.ts';
import { billedJob } from '../audits/billed-job.ts';
import { checkTaggedPdf } from '../documents/check-tagged-pdf.ts';
import { readPageTexts } from '../documents/read-pdf.ts';
import { findTrippedBreaker } from '../harness/findings.ts';
import { arriveAtJob, findCapacitor, issueQuote } from '../harness/job.ts';
import { billOf, openShop } from '../harness/shop.ts';
import { tagged } from '../harness/tagged.ts';
import { testPapers } from '../harness/test-papers.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';
import { acceptOnly, closeTicket, doAll, type TaggedAnswer } from '../harness/whole-job.ts';

const period = '?from=2026-01-01&to=2027-12-31';
const RULE = 'reset_billed_as_repair';

let service: TestService;
let report: AuditReport;
let jobs: number;
/** Tickets: one with a bill, and one with an open flag. */
let sold: string;
let breaker: string;

/** What the audit keeps of a job, written down as it would be by whoever judges it. */
async function judged(
  ticketId: string,
  {
    endedAt,
    flag,
    cannotJudge = [{ ruleCode: 'duplicate_part', missing: ['earlier_repairs', 'work'] }],
  }: {
    endedAt: string;
    flag?: { state: string; overCents: number; rule?: string };
    cannotJudge?: readonly { ruleCode: string; missing: readonly string[] }[];
  },
): Promise<void> {
  // As it is kept: whether a flag was answered is another matter.
  const over = flag === undefined || flag.state === 'gone' ? 0 : flag.overCents;
  const open = flag?.state === 'open' ? flag.overCents : 0;
  await service.owner.query(
    `INSERT INTO audit_judgement (ticket_id, ruleset_version, facts_hash, ended_at, judged_at,
       over_cents, open_cents, flag_count, cannot_judge)
     VALUES ($1, 'auditing-1', repeat('0', 64), $2, $2, $3, $5, 0, $4)
     ON CONFLICT (ticket_id) DO UPDATE
       SET ended_at = excluded.ended_at, over_cents = excluded.over_cents,
         open_cents = excluded.open_cents, cannot_judge = excluded.cannot_judge`,
    [ticketId, endedAt, over, JSON.stringify(cannotJudge), open],
  );
  if (flag === undefined) return;
  await service.owner.query(
    `WITH raised AS (INSERT INTO audit_flag (id, ticket_id, rule_code, fingerprint, severity,
       sentences, corrections, over_cents, ruleset_version, raised_at)
       VALUES (gen_random_uuid(), $1::uuid, $2, md5($1::uuid::text) || md5($1::uuid::text), 'owed', '["Said."]', '[{}]',
         $3, 'auditing-1', now()) RETURNING id),
     answered AS (INSERT INTO audit_answer (flag_id, answer, reason, answered_at, answered_by_id)
       SELECT id, $4, 'The owner looked.', now(), $5 FROM raised
       WHERE $4 IN ('accepted', 'dismissed'))
     INSERT INTO audit_flag_state (flag_id, state, changed_at) SELECT id, $4, now() FROM raised`,
    [ticketId, flag.rule ?? RULE, flag.overCents, flag.state, service.staff.owner.id],
  );
}

async function get(path: string) {
  return service.as('owner').get(path);
}

/** A job where a breaker was found tripped, and nothing was sold. */
async function breakerJob(): Promise<string> {
  const job = await arriveAtJob(service);
  await findTrippedBreaker(service, job);
  return job.ticketId;
}

/** A capacitor that was made dearer by hand before the yes, inside the tolerance. */
async function dearerJob(amountCents: number): Promise<TaggedAnswer> {
  const job = await arriveAtJob(service);
  const findingId = await findCapacitor(service, job);
  const aimedAt = `part:${findingId}:replace_dual_run_capacitor:CAP-45-5-440`;
  const adjustments = [{ aimedAt, amountCents, reason: 'The only one in town.' }];
  const drafted = await service.as('technician').post('/v1/quotes', {
    visitId: job.visitId,
    options: [{ title: 'Repair', findingIds: [findingId], adjustments }],
  });
  const issued = await issueQuote(service, tagged(expectStatus(drafted, 201)));
  await doAll(service, job, await acceptOnly(service, issued));
  const draft = await closeTicket(service, job);
  const path = `/v1/invoices/${draft.body.id}/issue`;
  return tagged(
    expectStatus(await service.as('dispatcher').post(path, {}, { ifMatch: draft.tag }), 200),
  );
}

async function giveBackOfPart({ body, tag }: TaggedAnswer, amountCents: number): Promise<void> {
  const part = body.documents[0].lines.find(({ kind }: { kind: string }) => kind === 'part');
  const memo = {
    ...{ kind: 'goodwill', reason: 'It was in town after all.' },
    lines: [{ document: 1, key: part.key, amountCents }],
  };
  const path = `/v1/invoices/${body.id}/credit-memos`;
  expectStatus(await service.as('owner').post(path, memo, { ifMatch: tag }), 201);
}

/** How often the press was asked, and whether there is room. */
const press = { reports: 0, isCrowded: false };

async function drawReport(words: Report): Promise<Uint8Array> {
  if (press.isCrowded) throw new ProblemError('unavailable', 'Too many papers are being drawn.');
  press.reports += 1;
  return renderReport(words);
}

beforeAll(async () => {
  const papers = testPapers({ press: { draw: drawToSeal, drawReport } });
  service = await createTestService({ papers });
  const bills = [await billedJob(service), await billedJob(service)];
  sold = bills[0]?.ticketId ?? '';
  for (const { ticketId } of bills) {
    const flag = ticketId === sold ? undefined : { state: 'dismissed', overCents: 999 };
    await judged(ticketId, { endedAt: '2026-07-14T12:00:00Z', ...(flag && { flag }) });
  }
  const open = { state: 'open', overCents: 12_345 };
  breaker = await breakerJob();
  await judged(breaker, { endedAt: '2026-07-20T12:00:00Z', flag: open });
  await judged(await breakerJob(), {
    endedAt: '2026-08-01T04:30:00Z',
    flag: { state: 'gone', overCents: 1 },
  });
  jobs = bills.length + 2;
  report = expectStatus(await get(`/v1/audit/report${period}`), 200).body;
});
afterAll(() => service.close());

function rowsOf(measure: string, by: string) {
  return report.patterns.find((each) => each.measure === measure && each.by === by)?.rows ?? [];
}

describe('the report of a period', () => {
  it('counts the jobs that ended in it, and what their open flags come to', () => {
    expect(report).toMatchObject({ jobs, openCents: 12_345 });
    expect(report.billedCents).toBeGreaterThan(0);
  });

  it('names the jobs to open first, whatever comes to most at their head', () => {
    const { toLookAt } = report;
    expect(toLookAt.jobs).toBe(1);
    expect(toLookAt.first).toMatchObject([
      {
        ticketId: breaker,
        endedOn: '2026-07-20',
        openCents: 12_345,
        rules: [RULE],
        sentence: 'Said.',
      },
    ]);
    // Nobody has left it yet, so it is nobody's.
    expect(toLookAt.first[0]).toMatchObject({ technicianId: null, technicianName: null });
  });

  it('counts over all jobs together what is done well beside what asks for a look', () => {
    const share = (measure: string) => report.shares.find((each) => each.measure === measure);
    expect(share('proven')).toMatchObject({ side: 'praise', trials: 2 });
    expect(share('reset_billed')).toMatchObject({ side: 'look', count: 1, trials: 2 });
    expect(share('solved_by_phone')).toMatchObject({ trials: 0, shareFrom: null });
  });

  it('has what was charged for each kind of work, less what was given back', async () => {
    const { rows } = await service.owner.query<{ cents: number }>(
      `SELECT sum(i.total_cents)::int AS cents FROM invoice n
       JOIN invoice_issue i ON i.invoice_id = n.id WHERE n.ticket_id = $1`,
      [sold],
    );
    const capacitor = report.prices.works.find(({ work }) => work.includes('run capacitor'));
    expect(capacitor).toMatchObject({ jobs: 2, above: 0 });
    const [{ cents = 0 } = {}] = rows;
    expect(capacitor?.fair).toHaveLength(1);
    expect(capacitor?.fair[0]?.fromCents).toBeLessThanOrEqual(cents);
    expect(capacitor?.fair[0]?.toCents).toBeGreaterThan(cents);
    expect(report.prices).toMatchObject({ jobs: 2, above: 0, furthest: [] });
  });

  it('counts of each rule what is open and what could not be judged, with what was missing', () => {
    expect(report.rules.find(({ code }) => code === RULE)).toMatchObject({
      ...{ open: 1, openCents: 12_345, accepted: 0, dismissed: 1, notJudged: 0 },
    });
    expect(report.rules.find(({ code }) => code === 'duplicate_part')).toMatchObject({
      ...{ open: 0, notJudged: jobs, missing: ['earlier_repairs', 'work'] },
    });
  });

  it('counts resets that were billed among jobs with a reset alone, and no flag that is gone', () => {
    const rows = rowsOf('reset_billed', 'month');
    // The last one ended on July 31 by the company's clock.
    expect(rows.map(({ subject, count, trials }) => ({ subject, count, trials }))).toEqual([
      { subject: '2026-07', count: 1, trials: 2 },
    ]);
  });

  it('counts what was proven among jobs with work sold, by whoever was there', () => {
    const [row, ...others] = rowsOf('proven', 'technician');
    expect(others).toEqual([]);
    expect(row).toMatchObject({ trials: 2, comparedTrials: 0, standing: 'not_enough_data' });
    expect(rowsOf('proven', 'month')).toMatchObject([{ subject: '2026-07' }]);
  });

  it('leaves out what ended before it or after it', async () => {
    const answer = await get('/v1/audit/report?from=2026-07-15&to=2026-07-20');
    expect(expectStatus(answer, 200).body).toMatchObject({ jobs: 1, openCents: 12_345 });
    const none = await get('/v1/audit/report?from=2026-08-01&to=2026-08-31');
    expect(expectStatus(none, 200).body).toMatchObject({ jobs: 0, openCents: 0 });
  });

  it('ends with the sealed journal that it rests on', () => {
    expect(report.journal.hash).toMatch(/^[0-9a-f]{64}$/);
  });

  it('is refused where more jobs ended than one report reads, with the way out', async () => {
    const asked = { from: '2026-07-01', to: '2026-07-31' };
    const context = { prisma: service.db.prisma, sql: service.db.pool };
    await expect(periodOf(context, asked, 4)).resolves.toMatchObject({ lastDay: '2026-07-31' });
    const refused = periodOf(context, asked, 3);
    await expect(refused).rejects.toMatchObject({ slug: 'validation-failed' });
    await expect(refused).rejects.toMatchObject({
      extensions: { errors: [{ pointer: '/to', code: 'too_many_jobs' }] },
    });
    expect(JOBS_MAX).toBeGreaterThanOrEqual(100_000);
  });

  it('is the same however many jobs are read at a time', async () => {
    const whole = { from: new Date('2026-01-01Z'), to: new Date('2027-01-01Z') };
    const text = `SELECT ticket_id AS id FROM audit_judgement
      WHERE ended_at >= $1 AND ended_at < $2 ORDER BY ended_at, ticket_id`;
    const read = (atATime: number) => inSlices(service.db.pool, whole, { text }, atATime);
    const all = await read(1_000);
    expect(all).toHaveLength(jobs);
    for (const atATime of [1, 2, 3]) expect(await read(atATime)).toEqual(all);
  });

  it('is refused when it ends before it begins', async () => {
    expectProblem(await get('/v1/audit/report?from=2026-07-15&to=2026-07-14'), 'validation-failed');
  });
});

describe('the same report', () => {
  it('as a table has a row for every rule', async () => {
    const { text, headers } = expectStatus(await get(`/v1/audit/report/csv${period}`), 200);
    expect(headers['content-type']).toBe('text/csv; charset=utf-8');
    expect(text).toContain(`rule,${RULE},`);
    expect(text).toContain('123.45');
    for (const { code } of report.rules) expect(text).toContain(`rule,${code},`);
    expect(text).toContain('share,proven,all,');
    expect(text).toContain('price,above_price,work,');
  });

  it('on paper says the rules, the figures, and what the journal ends with', async () => {
    const answer = await get(`/v1/audit/report/pdf${period}`);
    const bytes = new Uint8Array(expectStatus(answer, 200).body);
    expect(await checkTaggedPdf(bytes)).toEqual([]);
    const pages = await readPageTexts(bytes);
    const said = pages.map(({ body }) => body).join(' ');
    expect(said).toContain('January 1, 2026 to December 31, 2027');
    expect(said).toContain('$123.45');
    expect(said).toContain('it accuses nobody');
    expect(said).toContain('not enough jobs yet to compare');
    expect(said.replaceAll(/\s/g, '')).toContain(report.journal.hash);
  });

  it('is drawn by the press, which may have no room', async () => {
    const before = press.reports;
    expectStatus(await get(`/v1/audit/report/pdf${period}`), 200);
    expect(press.reports).toBe(before + 1);
    press.isCrowded = true;
    expectProblem(await get(`/v1/audit/report/pdf${period}`), 'unavailable');
    press.isCrowded = false;
  });

  it('has prices beside their fair band as a picture, told in words too', async () => {
    const { body } = expectStatus(await get(`/v1/audit/plots/prices-by-work${period}`), 200);
    const svg = Buffer.from(body).toString();
    expect(svg).toContain('<title>Charged, beside the fair price</title>');
    expect(svg).toContain('<desc>What 2 jobs were charged, by kind of work');
    expectProblem(
      await get('/v1/audit/plots/prices-by-work?from=2020-01-01&to=2020-01-31'),
      'not-found',
    );
  });

  it('says on its first page what is done well beside what is to be put right', async () => {
    const answer = await get(`/v1/audit/report/pdf${period}`);
    const [first] = await readPageTexts(new Uint8Array(expectStatus(answer, 200).body));
    const page = first?.body ?? '';
    for (const words of [
      'Done well',
      'Solved by phone',
      'To put right',
      'The first jobs to open',
    ]) {
      expect(page).toContain(words);
    }
    expect(page).toContain('Reset billed as repair');
  });

  it('has each plot as a picture, and says when there is none of that name', async () => {
    const answer = await get(`/v1/audit/plots/proven-by-month${period}`);
    const { headers, body } = expectStatus(answer, 200);
    expect(headers['content-type']).toBe('image/svg+xml');
    expect(Buffer.from(body).toString()).toContain(
      '<title>Everything billed was proven by readings, by month</title>',
    );
    expectProblem(await get(`/v1/audit/plots/nothing${period}`), 'not-found');
  });
});

describe('jobs that are not simply fair', () => {
  const year = '?from=2029-01-01&to=2029-12-31';
  let of2029: AuditReport;
  let dearer: TaggedAnswer;
  let computedCents: number;

  beforeAll(async () => {
    const asked = ['above_ceiling', 'differs_from_book'];
    const unknown = asked.map((ruleCode) => ({ ruleCode, missing: ['price_inputs'] }));
    const { ticketId, invoice } = await billedJob(service);
    computedCents = invoice.body.totalCents;
    await judged(ticketId, { endedAt: '2029-03-01T12:00:00Z', cannotJudge: unknown });
    dearer = await dearerJob(200);
    await judged(dearer.body.ticketId, { endedAt: '2029-03-02T12:00:00Z', cannotJudge: [] });
    const reset = await breakerJob();
    const said = { rule: 'reset_without_cause', state: 'accepted', overCents: 0 };
    await judged(reset, { endedAt: '2029-03-03T12:00:00Z', cannotJudge: [], flag: said });
    of2029 = expectStatus(await get(`/v1/audit/report${year}`), 200).body;
  });

  it('are at no fair price where nobody could judge them', () => {
    expect(of2029.prices).toMatchObject({ jobs: 2, above: 0, notJudged: 1, putRight: 0 });
    const [work] = of2029.prices.works;
    expect(work).toMatchObject({ jobs: 2, notJudged: 1 });
    expect(work?.fair.reduce((sum, { jobs: each }) => sum + each, 0)).toBe(1);
  });

  it('come to what was computed, where the rest was added by hand, with its tax', async () => {
    // The same job at its computed price is the one above.
    expect(dearer.body.totalCents).toBeGreaterThan(computedCents + 200);
    expect(of2029.prices.works[0]?.lowCents).toBe(computedCents);
    await giveBackOfPart(dearer, 200);
    const after: AuditReport = expectStatus(await get(`/v1/audit/report${year}`), 200).body;
    expect(after.prices.works[0]?.lowCents).toBe(computedCents);
  });

  it('stay in the report where the owner agreed to a flag without money', async () => {
    const rule = of2029.rules.find(({ code }) => code === 'reset_without_cause');
    expect(rule).toMatchObject({ open: 0, accepted: 1, judged: 1, notJudged: 0 });
    const { body } = expectStatus(await get(`/v1/audit/report/pdf${year}`), 200);
    const pages = await readPageTexts(new Uint8Array(body));
    const words = pages.map((page) => page.body).join(' ');
    expect(words).toMatch(/Reset without cause[^.]*\. 0 1 0/);
    expect(words).toContain('At a fair price (1 job not judged)');
  });

  it('are told on how many of them each rule was judged', () => {
    const of = (code: string) => of2029.rules.find((each) => each.code === code);
    expect(of('above_ceiling')).toMatchObject({ judged: 1, notJudged: 1 });
    expect(of('tax_wrong')).toMatchObject({ judged: 2, notJudged: 0 });
    expect(of('cancelled_after_time_on_site')).toMatchObject({ judged: 0, notJudged: 0 });
  });
});

describe('imported bills', () => {
  it('of the period are told apart from our own jobs', async () => {
    const header =
      'date,technician,complaint,found,done,parts,hours,arrived,left,fee,labor,tax,charged';
    const bills = ['2025-07-03,,No cooling,,replaced capacitor,,,,,,,0,2000.00'];
    const file = Buffer.from([header, ...bills, '2025-07-04,,,,,,,,,,,0,90.00'].join('\r\n'));
    const path = '/v1/bill-imports?origin=own&fileName=2025.csv';
    const taken = expectStatus(await service.as('owner').send(path, 'text/csv', file), 201);
    const of2025 = '?from=2025-01-01&to=2025-12-31';
    const before: AuditReport = expectStatus(await get(`/v1/audit/report${of2025}`), 200).body;
    expect(before.importedBills).toMatchObject([{ origin: 'own', bills: 2, notLookedAt: 2 }]);
    expectStatus(await get(taken.headers['location'] ?? ''), 200);
    const after: AuditReport = expectStatus(await get(`/v1/audit/report${of2025}`), 200).body;
    expect(after.jobs).toBe(0);
    expect(after.importedBills).toMatchObject([
      { bills: 2, chargedCents: 209_000, flagged: 2, notPriced: 1, notLookedAt: 0 },
    ]);
    expect(after.importedBills[0]?.overCents).toBeGreaterThan(100_000);
    const none: AuditReport = expectStatus(
      await get('/v1/audit/report?from=2025-07-05&to=2025-12-31'),
      200,
    ).body;
    expect(none.importedBills).toEqual([]);
    const { body } = expectStatus(await get(`/v1/audit/report/pdf${of2025}`), 200);
    const [first] = await readPageTexts(new Uint8Array(body));
    expect(first?.body).toContain('Imported bills of these days');
    expect(first?.body).toContain('$2,090.00');
    expect(first?.body).not.toContain('nothing to look at');
  });
});

describe('the price book and the readings', () => {
  it('has each task beside the jobs where it was the only one, as long as somebody was there', () => {
    const capacitor = report.book.tasks.find(
      ({ taskCode }) => taskCode === 'replace_dual_run_capacitor',
    );
    expect(capacitor).toMatchObject({ jobs: 2, standing: 'not_enough_data' });
    expect(capacitor?.sentence).toContain('2 jobs that were nothing else are too few');
    const breaker = report.book.tasks.find(({ taskCode }) => taskCode === 'reset_breaker');
    expect(breaker).toMatchObject({ jobs: 0, medianMinutes: null });
  });

  it('counts the readings that decided a capacitor, and pairs of readings at two homes', () => {
    const [bunched, repeated] = report.readings;
    expect(bunched).toMatchObject({ what: 'bunched', rows: [{ standing: 'not_enough_data' }] });
    expect(repeated?.what).toBe('repeated');
    expect(report.readings).toHaveLength(2);
  });

  it('has each part beside what suppliers billed for it within a year', async () => {
    const shop = await openShop(service);
    const line = { partCode: 'CAP-45-5-440', quantity: '10', amountCents: 5_000 };
    const bill = billOf(shop.shelvesId, line);
    expectStatus(await service.as('owner').post('/v1/supplier-bills', bill), 201);
    const { book }: AuditReport = expectStatus(await get(`/v1/audit/report${period}`), 200).body;
    // The book has 18.40 for what was bought at 5.00.
    expect(book.parts.find(({ partCode }) => partCode === 'CAP-45-5-440')).toMatchObject({
      ...{ bookCents: 1_840, bills: 1, latestCents: 500, latestOn: '2026-07-01' },
      ...{ overCents: 1_340, standing: 'above_bills' },
    });
    const before: AuditReport = expectStatus(
      await get('/v1/audit/report?from=2024-01-01&to=2026-06-30'),
      200,
    ).body;
    expect(before.book.parts.every(({ standing }) => standing === 'no_bills')).toBe(true);
  });
});
