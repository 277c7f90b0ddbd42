import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { formatCents, renderReport } from '../../src/documents/index.ts';
import { fileOf, type PaperContext } from '../../src/papers/index.ts';
import { canonicalJson } from '../../src/platform/canonical-json.ts';
import { ProblemError } from '../../src/platform/http/problem.ts';
import { timedIds } from '../../src/platform/ids.ts';
import { sha256 } from '../../src/platform/sha256.ts';
import { drawToSeal } from '../../src/proof/index.ts';
import { verifyPaper } from '../../src/proof/verify-paper.ts';
import { readPageTexts } from '../documents/read-pdf.ts';
import { findPluggedDrain } from '../harness/findings.ts';
import { arriveAtJob, findCapacitor, type Job } from '../harness/job.ts';
import { testKey, testPapers } from '../harness/test-papers.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';
import { acceptOnly, closeTicket, declineAll, doAll, offer } from '../harness/whole-job.ts';

type Draw = typeof drawToSeal;

const drawn = { count: 0 };
const drawAndCount: Draw = async (sheet) => {
  drawn.count += 1;
  return drawToSeal(sheet);
};
/** What the press of the service does; a test may hand it something else. */
let draw = drawAndCount;

let service: TestService;
beforeAll(async () => {
  const press = { draw: (sheet: Parameters<Draw>[0]) => draw(sheet), drawReport: renderReport };
  const publicUrl = () => 'https://jobs.example.com/';
  service = await createTestService({ papers: testPapers({ press, publicUrl }) });
});
afterAll(() => service.close());

interface Listed {
  id: string;
  kind: string;
  number: string;
  edition: number | null;
  languages: string[];
}

describe('every act that a customer is told of has its paper', () => {
  let job: Job;
  let listed: Listed[];
  let totals: Record<string, number>;

  beforeAll(async () => {
    ({ job, totals } = await wholeTicket());
    listed = await papersOf(job.ticketId);
  });

  it('a quote, its yes, a no to another, the record of the work, the invoice and the credit memo, in the order of the acts', () => {
    expect(listed.map(({ kind, edition }) => [kind, edition])).toEqual([
      ['quote', 1],
      ['decline', 1],
      ['quote', 1],
      ['acceptance', 1],
      ['work_record', 1],
      ['invoice', null],
      ['credit_memo', null],
    ]);
    expect(listed.map(({ languages }) => languages)).toEqual(listed.map(() => ['en', 'es']));
  });

  it.each(['en', 'es'] as const)(
    'each a file in %s, signed, genuine, with its total as the API has it',
    async (language) => {
      for (const { id, kind, number } of listed) {
        const { bytes, status, headers } = await file(id, language);
        expect(status, kind).toBe(200);
        expect(headers['content-type']).toBe('application/pdf');
        expect(headers['content-disposition']).toMatch(/^inline; filename="[a-z0-9-]+\.pdf"$/);
        const verdict = await verifyPaper(new Uint8Array(bytes), { keys: [testKey.publicKey] });
        expect(verdict).toMatchObject({ verdict: 'genuine', paper: { kind, number, language } });
        const total = totals[`${kind} ${number}`];
        const text = await textOf(bytes);
        if (total !== undefined) expect(text, kind).toContain(formatCents(total));
        expect(text).toContain('https://jobs.example.com/paper/');
      }
    },
  );

  it('the record of the work tells both readings, the part that went in with its old one, and until when it is warranted', async () => {
    const text = await textOf((await fileOfKind('work_record')).bytes);
    for (const told of [
      'What you called about is solved.',
      'Before',
      'After',
      'Replace the dual run capacitor',
      'You were given the old one',
      'we mend it again without a charge for labor',
      'Found only',
      'Running.',
      'Measured after the work: Compressor section of the run capacitor',
    ]) {
      expect(text).toContain(told);
    }
    // Why there are no readings was said, and then there were some.
    expect(text).not.toContain('No readings after the work');
  });

  it('in Spanish what a person typed stays, and what the program says is Spanish', async () => {
    const record = await textOf((await fileOfKind('work_record', 'es')).bytes);
    expect(record).toContain('Running.');
    expect(record).toContain('Cambiar el capacitor de marcha doble');
    const invoice = await textOf((await fileOfKind('invoice', 'es')).bytes);
    expect(invoice).toMatch(/Presupuesto \d+, como se aceptó/);
    expect(invoice).toContain('Tarifa de visita');
    expect(invoice).toContain('Impuesto (Sales tax), 8.25% de piezas');
    expect(invoice).not.toContain('quill_county');
    const memo = await textOf((await fileOfKind('credit_memo', 'es')).bytes);
    // As the invoice names it, and nothing is said to be given back that nobody paid.
    expect(memo).toMatch(/Presupuesto \d+, como se aceptó/);
    expect(memo).toContain('Descontado');
    expect(memo).not.toContain('impuestos');
    expect(memo).toContain('We came late.');
  });

  it('is not sent again to whoever has it', async () => {
    const [first] = listed;
    if (first === undefined) throw new Error('a ticket has papers');
    const { headers } = await file(first.id, 'en');
    const again = await file(first.id, 'en', { 'if-none-match': String(headers['etag']) });
    expect(again.status).toBe(304);
    expect(again.bytes.length).toBe(0);
  });

  it('is for the office and for whoever was there; for another technician it does not exist', async () => {
    const [first] = listed;
    const other = service.as('second_technician');
    expectProblem(await other.get(`/v1/papers/${first?.id}/file`), 'not-found');
    expectProblem(await other.get(`/v1/papers?ticketId=${job.ticketId}`), 'not-found');
    expectStatus(await service.as('dispatcher').get(`/v1/papers?ticketId=${job.ticketId}`), 200);
    expectProblem(
      await service.as('nobody').get(`/v1/papers/${first?.id}/file`),
      'unauthenticated',
    );
  });

  async function fileOfKind(kind: string, language: 'en' | 'es' = 'en') {
    const found = listed.find((paper) => paper.kind === kind);
    return file(found?.id ?? '', language);
  }
});

describe('a paper is drawn once and never again', () => {
  it('when ten ask for it at once, who all get the same bytes', async () => {
    const id = await newPaper();
    drawn.count = 0;
    const files = await Promise.all(Array.from({ length: 10 }, () => file(id, 'en')));
    expect(new Set(files.map(({ bytes }) => sha256(bytes))).size).toBe(1);
    // The signature over its pages goes into the file that was drawn.
    expect(drawn.count).toBe(1);
    expect(await keptOf(id)).toEqual({ files: 1, documents: 1, entries: 1 });
  });

  it('by two processes at once: one file is kept, and both hand out that one', async () => {
    const id = await newPaper();
    const answers = await Promise.all([
      fileOf(processWith('https://one.example.com'), id, 'en'),
      fileOf(processWith('https://two.example.com'), id, 'en'),
    ]);
    expect(answers[0]?.sha256).toBe(answers[1]?.sha256);
    const stored = await service.owner.query(
      `SELECT count(*)::int AS n FROM document WHERE created_at = (
         SELECT d.created_at FROM paper_file f JOIN document d ON d.sha256 = f.sha256
         WHERE f.paper_id = $1) AND kind = 'quote'`,
      [id],
    );
    expect(await keptOf(id)).toEqual({ files: 1, documents: 1, entries: 1 });
    expect(stored.rows).toEqual([{ n: 1 }]);
  });

  it('whatever draws papers later', async () => {
    const id = await newPaper();
    const before = await file(id, 'en');
    await withPress(
      () => Promise.reject(new Error('a newer hand')),
      async () => {
        const after = await file(id, 'en');
        expect(after.bytes.equals(before.bytes)).toBe(true);
        expect((await file(id, 'es')).status).toBe(500);
      },
    );
    expect((await file(id, 'es')).status).toBe(200);
  });

  it('after the press had no room: told to come back, and then drawn', async () => {
    const id = await newPaper();
    const crowded = () => Promise.reject(new ProblemError('unavailable', 'Too many papers.'));
    await withPress(crowded, async () => {
      const refused = await file(id, 'en');
      expect(refused.status).toBe(503);
      expect(refused.headers['retry-after']).toBe('2');
    });
    expect(await keptOf(id)).toEqual({ files: 0, documents: 0, entries: 0 });
    expect((await file(id, 'en')).status).toBe(200);
  });

  it('after the process ended between drawing and keeping: nothing is half kept, nothing is lost', async () => {
    const id = await newPaper();
    const dying = {
      ...processWith('https://jobs.example.com'),
      db: { transact: () => Promise.reject(new Error('the process is gone')) },
    };
    await expect(fileOf(dying, id, 'en')).rejects.toThrow('the process is gone');
    expect(await keptOf(id)).toEqual({ files: 0, documents: 0, entries: 0 });
    expect((await file(id, 'en')).status).toBe(200);
    expect(await keptOf(id)).toEqual({ files: 1, documents: 1, entries: 1 });
  });
});

describe('the paper and its act stand or fall together', () => {
  it('no paper without its act: what is refused leaves none', async () => {
    const job = await arriveAtJob(service);
    const quote = await offer(service, job, [await findCapacitor(service, job)]);
    const path = `/v1/quotes/${quote.body.id}/accept`;
    const wrong = { ...(await yesOf(quote)), shownTotalCents: 1 };
    const refused = await service.as('technician').post(path, wrong, { ifMatch: quote.tag });
    expectProblem(refused, 'shown-content-changed');
    expect((await papersOf(job.ticketId)).map(({ kind }) => kind)).toEqual(['quote']);
  });

  it('no act without its paper: an answer whose paper cannot be recorded is no answer', async () => {
    const job = await arriveAtJob(service);
    const quote = await offer(service, job, [await findCapacitor(service, job)]);
    await service.owner.query('ALTER TABLE paper ADD CONSTRAINT full_up CHECK (false) NOT VALID');
    const path = `/v1/quotes/${quote.body.id}/accept`;
    const yes = await yesOf(quote);
    const failed = await service.as('technician').post(path, yes, { ifMatch: quote.tag });
    await service.owner.query('ALTER TABLE paper DROP CONSTRAINT full_up');
    expectStatus(failed, 500);
    const now = await service.as('technician').get(`/v1/quotes/${quote.body.id}`);
    expect(now.body).toMatchObject({ state: 'issued', acceptance: null });
    expectStatus(await service.as('technician').post(path, yes, { ifMatch: quote.tag }), 200);
  });

  it('on every ticket of this file: each act has one paper, each paper one act', async () => {
    const { rows } = await service.owner.query(`
      SELECT count(*)::int AS papers, (SELECT count(*) FROM quote_issue)::int
        + (SELECT count(*) FROM quote_acceptance)::int + (SELECT count(*) FROM quote_decline)::int
        + (SELECT count(*) FROM invoice_issue)::int + (SELECT count(*) FROM credit_memo)::int
        + (SELECT count(*) FROM ticket_closing)::int AS acts FROM paper`);
    expect(rows[0]?.papers).toBe(rows[0]?.acts);
    expect(rows[0]?.papers).toBeGreaterThan(10);
  });
});

describe('papers of the time before', () => {
  it('of an answer: by the clock and the name of that day, whatever either is called since', async () => {
    const { job } = await wholeTicket();
    const answers = (await papersOf(job.ticketId)).filter(
      ({ kind }) => kind === 'acceptance' || kind === 'decline',
    );
    const { owner } = service;
    const zone = await owner.query('SELECT time_zone FROM company');
    const names = await owner.query('SELECT id, name FROM staff');
    await owner.query(`UPDATE company SET time_zone = 'Asia/Kolkata'`);
    await owner.query(`UPDATE staff SET name = 'Somebody Else'`);
    const papers = await Promise.all(answers.map(({ id }) => file(id, 'es')));
    await owner.query('UPDATE company SET time_zone = $1', [zone.rows[0]?.time_zone]);
    for (const { id, name } of names.rows) {
      await owner.query('UPDATE staff SET name = $2 WHERE id = $1', [id, name]);
    }
    expect(papers).toHaveLength(2);
    for (const { bytes } of papers) {
      const text = await textOf(bytes);
      expect(text).toContain('Tamsin Roake');
      expect(text).toContain('1:00 p.m. CDT');
      expect(text).not.toContain('Somebody Else');
    }
  });

  it('frozen in English alone: that comes, and whoever asks for Spanish is told what there is', async () => {
    const { job } = await wholeTicket();
    await inEnglishAlone(job.ticketId);
    for (const { id, kind, languages } of await papersOf(job.ticketId)) {
      if (kind === 'work_record') continue;
      expect(languages, kind).toEqual(['en']);
      expect((await file(id, 'en')).status, kind).toBe(200);
      const refused = await service.as('owner').get(`/v1/papers/${id}/file?language=es`);
      expect(expectProblem(refused, 'not-found').body.detail).toContain('language=en');
    }
  });

  it('of work that was closed before there were records: it is recorded when it is asked for, once', async () => {
    const { job } = await wholeTicket();
    await service.owner.query('ALTER TABLE work_record DISABLE TRIGGER USER');
    const removed = await service.owner.query<{ paper: object }>(
      `DELETE FROM work_record r USING ticket_closing c
       WHERE c.id = r.closing_id AND c.ticket_id = $1 RETURNING r.paper`,
      [job.ticketId],
    );
    await service.owner.query('ALTER TABLE work_record ENABLE TRIGGER USER');
    const papers = await papersOf(job.ticketId);
    const record = papers.find(({ kind }) => kind === 'work_record');
    expect(record?.languages).toEqual(['en', 'es']);
    const [english, spanish] = await Promise.all([
      file(record?.id ?? '', 'en'),
      file(record?.id ?? '', 'es'),
    ]);
    expect([english?.status, spanish?.status]).toEqual([200, 200]);
    const made = await service.owner.query<{ paper: object }>(
      `SELECT r.paper FROM work_record r JOIN ticket_closing c ON c.id = r.closing_id
       WHERE c.ticket_id = $1`,
      [job.ticketId],
    );
    expect(made.rows).toEqual(removed.rows);
  });
});

/** A ticket with everything: a no, a yes, the work, the invoice and a credit; and what each came to. */
async function wholeTicket(): Promise<{ job: Job; totals: Record<string, number> }> {
  const job = await arriveAtJob(service);
  const findingId = await findCapacitor(service, job);
  await findPluggedDrain(service, job);
  const refused = await offer(service, job, [findingId]);
  await declineAll(service, refused);
  const quote = await acceptOnly(service, await offer(service, job, [findingId]));
  await doAll(service, job, quote);
  await measureCapacitorAfter(job);
  const draft = await closeTicket(service, job);
  const path = `/v1/invoices/${draft.body.id}`;
  const dispatcher = service.as('dispatcher');
  const invoice = expectStatus(
    await dispatcher.post(`${path}/issue`, {}, { ifMatch: draft.tag }),
    200,
  );
  const [document] = invoice.body.documents;
  const labor = document.lines.find(({ kind }: { kind: string }) => kind === 'labor');
  const credit = {
    kind: 'goodwill',
    reason: 'We came late.',
    lines: [{ document: 1, key: labor.key, amountCents: 500 }],
  };
  const memo = await service
    .as('owner')
    .post(`${path}/credit-memos`, credit, { ifMatch: invoice.headers['etag'] ?? '' });
  expectStatus(memo, 201);
  const { number, acceptance } = quote.body;
  return {
    job,
    totals: {
      [`quote ${refused.body.number}`]: refused.body.options[0].totalCents,
      [`decline ${refused.body.number}`]: refused.body.declineTotalCents,
      [`quote ${number}`]: acceptance.totalCents,
      [`acceptance ${number}`]: acceptance.totalCents,
      [`invoice ${invoice.body.number}`]: invoice.body.totalCents,
      [`credit_memo ${memo.body.number}`]: memo.body.totalCents,
    },
  };
}

/** The new capacitor under load, after the work. */
async function measureCapacitorAfter(job: Job): Promise<void> {
  const at = { equipmentId: job.outdoorId, point: 'capacitor_herm', method: 'clamp_meter' };
  const readings = [
    { ...at, phase: 'left', quantity: 'current', value: 5.9, unit: 'A' },
    { ...at, phase: 'left', quantity: 'voltage', value: 350, unit: 'V' },
  ];
  const path = `/v1/visits/${job.visitId}/readings`;
  expectStatus(await service.as('technician').post(path, { readings }), 201);
}

async function yesOf({ body }: Awaited<ReturnType<typeof offer>>) {
  return {
    optionId: body.options[0].id,
    acceptedByName: 'Winifred Ashgrove',
    consentText: 'I accept this option at this total.',
    shownTotalCents: body.options[0].totalCents,
    shownContentHash: body.contentHash,
  };
}

/** The paper of a quote that nobody has asked for yet. */
async function newPaper(): Promise<string> {
  const job = await arriveAtJob(service);
  await offer(service, job, [await findCapacitor(service, job)]);
  service.clock.advance(1_000);
  const [paper] = await papersOf(job.ticketId);
  if (paper === undefined) throw new Error('a quote has a paper');
  return paper.id;
}

async function papersOf(ticketId: string): Promise<Listed[]> {
  const answer = await service.as('technician').get(`/v1/papers?ticketId=${ticketId}`);
  return expectStatus(answer, 200).body.items;
}

/** A file as bytes, past a client that would read it as text. */
async function file(id: string, language: 'en' | 'es', headers: Record<string, string> = {}) {
  const answer = await service.app.inject({
    method: 'GET',
    url: `/v1/papers/${id}/file?language=${language}`,
    headers: { authorization: `Bearer ${service.staff.technician.token}`, ...headers },
  });
  return { status: answer.statusCode, headers: answer.headers, bytes: answer.rawPayload };
}

async function textOf(bytes: Uint8Array): Promise<string> {
  const pages = await readPageTexts(new Uint8Array(bytes));
  return pages.map(({ body }) => body).join(' ');
}

/** Another process on the same database, as people reach it there. */
function processWith(publicUrl: string): PaperContext {
  const ids = timedIds(service.clock);
  return {
    prisma: service.db.prisma,
    db: service.db,
    now: service.clock.now(),
    newId: () => ids.next(),
    papers: testPapers({ publicUrl: () => publicUrl }),
  };
}

async function withPress(other: Draw, work: () => Promise<void>): Promise<void> {
  draw = other;
  try {
    await work();
  } finally {
    draw = drawAndCount;
  }
}

async function keptOf(id: string): Promise<unknown> {
  const { rows } = await service.owner.query(
    `SELECT count(f.sha256)::int AS files, count(DISTINCT d.sha256)::int AS documents,
       (SELECT count(*)::int FROM journal_entry
        WHERE event = 'paper.rendered' AND subject_id = $1) AS entries
     FROM paper_file f JOIN document d ON d.sha256 = f.sha256 WHERE f.paper_id = $1::uuid`,
    [id],
  );
  return rows[0];
}

/** Makes what a ticket froze be of an earlier time; the guards that keep it as it is look away once. */
async function inEnglishAlone(ticketId: string): Promise<void> {
  const frozen = [
    ['quote_issue', 'quote_id', 'quote_id IN (SELECT id FROM quote WHERE ticket_id = $1)'],
    ['invoice_issue', 'invoice_id', 'invoice_id IN (SELECT id FROM invoice WHERE ticket_id = $1)'],
    ['credit_memo', 'id', 'invoice_id IN (SELECT id FROM invoice WHERE ticket_id = $1)'],
  ] as const;
  await service.owner.query(
    'ALTER TABLE quote_acceptance DROP CONSTRAINT IF EXISTS quote_acceptance_shown_hash',
  );
  for (const [table, key, which] of frozen) {
    const { rows } = await service.owner.query<{ id: string; paper: Record<string, unknown> }>(
      `SELECT ${key} AS id, paper FROM ${table} WHERE ${which}`,
      [ticketId],
    );
    await service.owner.query(`ALTER TABLE ${table} DISABLE TRIGGER USER`);
    for (const { id, paper } of rows) {
      const { inSpanish: _, ...english } = paper;
      // Papers about money had no cautions then.
      if (table !== 'quote_issue') delete english['cautions'];
      const text = canonicalJson(english);
      await service.owner.query(
        `UPDATE ${table} SET paper = $2, content_hash = $3 WHERE ${key} = $1`,
        [id, text, sha256(text)],
      );
    }
    await service.owner.query(`ALTER TABLE ${table} ENABLE TRIGGER USER`);
  }
}
