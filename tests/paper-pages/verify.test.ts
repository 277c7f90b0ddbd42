import { generateKeyPairSync } from 'node:crypto';
import { connect } from 'node:net';
import { setTimeout as wait } from 'node:timers/promises';
import { PDFDocument } from 'pdf-lib';
import supertest from 'supertest';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { renderPaper } from '../../src/documents/index.ts';
import { registerKey } from '../../src/papers/index.ts';
import { PAPER_BYTES_MAX } from '../../src/proof/index.ts';
import { paperKeyOf } from '../../src/proof/load-paper-key.ts';
import { breakerReset } from '../documents/sample-papers.ts';
import { sendTo } from '../harness/change-order.ts';
import { arriveAtJob, findCapacitor } from '../harness/job.ts';
import { rowsOfAll } from '../harness/rows-of-all.ts';
import { testKey, testPapers } from '../harness/test-papers.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';
import { acceptOnly, declineAll, offer } from '../harness/whole-job.ts';
import { sealQuote } from '../proof/sealed-papers.ts';
import { appendedTo, edited, locked, patched } from '../proof/tamper.ts';
import { reader, textOf } from './reader.ts';

let service: TestService;
let quote: Awaited<ReturnType<typeof offer>>;
let file: Uint8Array;
let spanish: Uint8Array;
beforeAll(async () => {
  const papers = testPapers({ publicUrl: () => 'https://jobs.example.com' });
  service = await createTestService({ papers });
  const context = { db: service.db, now: service.clock.now(), newId: () => crypto.randomUUID() };
  await registerKey(context, testKey.publicKey);
  const job = await arriveAtJob(service);
  quote = await offer(service, job, [await findCapacitor(service, job)]);
  file = await fileOf(job.ticketId, 'quote');
  spanish = await fileOf(job.ticketId, 'quote', 'es');
});
// An address may send twenty files in one go; the tests together send more.
beforeEach(() => service.clock.advance(10 * 60_000));
afterAll(() => service.close());

async function fileOf(ticketId: string, kind: string, language = 'en'): Promise<Uint8Array> {
  const staff = service.as('dispatcher');
  const { items } = (await staff.get(`/v1/papers?ticketId=${ticketId}`)).body;
  const paper = items.find((each: { kind: string }) => each.kind === kind);
  const answer = await staff.get(`/v1/papers/${paper.id}/file?language=${language}`);
  return new Uint8Array(expectStatus(answer, 200).body);
}

async function verdictOf(bytes: Uint8Array, lang: 'en' | 'es' = 'en') {
  const page = expectStatus(await reader(service).send(bytes, { lang }), 200);
  expect(page.headers['content-type']).toBe('text/html; charset=utf-8');
  const [, worth] = /class="judged judged-(\w+)"/.exec(page.text) ?? [];
  return { worth, text: textOf(page), page };
}

describe('a file that was sent in', () => {
  it('is known to the byte where we keep it: what it is, its day, and where it stands', async () => {
    const { worth, text, page } = await verdictOf(file);
    expect(worth).toBe('genuine');
    expect(text).toContain(
      `Genuine: this is our quote ${quote.body.number}. It is byte for byte the file we issued on July 14, 2026.`,
    );
    expect(text).toContain('Waits for an answer.');
    expect(text).toContain('Total $204.90');
    expect(page.text).toContain(`href="/paper/${quote.body.contentHash}?lang=en"`);
  });

  it('is answered in Spanish to whoever reads Spanish, in whatever language the file is', async () => {
    for (const bytes of [file, spanish]) {
      const { worth, text } = await verdictOf(bytes, 'es');
      expect(worth).toBe('genuine');
      expect(text).toContain(
        `Auténtico: este es nuestro documento, presupuesto ${quote.body.number}. Es, byte por byte, el archivo que emitimos el 14 de julio de 2026.`,
      );
      expect(text).toContain('Espera una respuesta.');
    }
  });

  it('is known by its pages when it was only packed anew, and is not called genuine for that', async () => {
    const { worth, text } = await verdictOf(await edited(file, () => undefined));
    expect(worth).toBe('cannot_tell');
    expect(text).toMatch(/Every page.* is what we signed/);
    expect(text).toContain('Waits for an answer.');
    expect(text).toContain('Hold it against what we issued, above.');
  });

  it('is genuine also where the file is gone and only its data are known', async () => {
    const lost = await otherService();
    const page = await reader(lost).send(file);
    const text = textOf(page);
    await lost.close();
    expect(text).toContain('It is to the last byte the file that we made and signed.');
    // A service that never issued it has nothing more to say of it.
    expect(text).toContain('call 555-0100 to hear whether it still stands');
    expect(text).not.toContain('What it says, and where it stands');
    expect(text).not.toContain('/paper/');
  });

  it('is called altered with what differs, and shows what was issued instead', async () => {
    const { worth, text, page } = await verdictOf(await cheaper());
    expect(worth).toBe('altered');
    expect(text).toContain('Altered: this is not the paper as we signed it.');
    expect(text).toMatch(/What differs Page 1 /);
    expect(text).toContain('What we issued');
    expect(text).toContain('Total $204.90');
    expect(text).toContain('Do not pay, sign or agree by this file.');
    expect(page.text).toContain(`href="/paper/${quote.body.contentHash}?lang=en"`);
  });

  it('is called altered in Spanish too', async () => {
    const { worth, text } = await verdictOf(await cheaper(), 'es');
    expect(worth).toBe('altered');
    expect(text).toContain('Alterado: este no es el documento tal como lo firmamos.');
    expect(text).toMatch(/Lo que es distinto La página 1 /);
  });

  it.each([
    ['one bit of it turned', () => file.map((byte, at) => (at === 20_000 ? byte ^ 1 : byte))],
    ['something added to its end', () => appendedTo(file, '')],
  ])('is never genuine with %s', async (_, change) => {
    const { worth } = await verdictOf(change());
    expect(worth).not.toBe('genuine');
  });

  it('signed by a stranger is not ours', async () => {
    const stranger = paperKeyOf(generateKeyPairSync('ed25519').privateKey);
    const forged = await renderPaper(await sealQuote(breakerReset, stranger));
    const { worth, text } = await verdictOf(forged);
    expect(worth).toBe('altered');
    expect(text).toContain('Not signed by us, as far as these keys can tell.');
    expect(text).not.toContain('What we issued');
  });

  it('whose data are not what was signed is altered, and nothing in them is believed', async () => {
    const sheet = await sealQuote(breakerReset);
    const attachments = sheet.attachments.map((each) => {
      const text = Buffer.from(each.bytes).toString('utf8');
      const isData = each.relationship === 'Data';
      return isData ? { ...each, bytes: Buffer.from(text.replace('"en"', '"es"')) } : each;
    });
    const { worth, text } = await verdictOf(await renderPaper({ ...sheet, attachments }));
    expect(worth).toBe('altered');
    expect(text).toContain('The signature does not fit the data inside.');
    expect(text).not.toContain('What we issued');
  });

  it('that another program saved is not vouched for, and stands beside what we issued', async () => {
    const { worth, text } = await verdictOf(patched(file, /startxref\n\d/, 'startxref\n9'));
    expect(worth).toBe('cannot_tell');
    expect(text).toContain('We cannot tell for sure.');
    expect(text).toContain('Total $204.90');
    expect(text).toContain('Hold it against what we issued, above.');
  });

  it.each([
    ['of another program', async () => foreign(), 'there is no signed data of ours in this file'],
    ['that is a text', async () => Buffer.from('Dear customer'), 'It is not a PDF file.'],
    ['that is broken', async () => file.slice(0, 9_000), ''],
    ['that is locked', async () => locked(file, 'secret'), 'It is locked with a password.'],
    ['of the largest size', async () => new Uint8Array(PAPER_BYTES_MAX), 'It is not a PDF file.'],
  ])('%s cannot be judged, and what to do is said', async (_, make, says) => {
    const { worth, text } = await verdictOf(await make());
    expect(worth).toBe('cannot_tell');
    expect(text).toMatch(/^.*We cannot tell/);
    expect(text).toContain(says);
    expect(text).toContain('It may still be a copy of a good paper.');
  });

  it('is told from the verdict that stands now, not from the one in the file', async () => {
    const job = await arriveAtJob(service);
    const open = await offer(service, job, [await findCapacitor(service, job)]);
    const bytes = await fileOf(job.ticketId, 'quote');
    expect((await verdictOf(bytes)).text).toContain('Waits for an answer.');
    expectStatus(await sendTo(service, open, 'withdraw'), 200);
    const { worth, text } = await verdictOf(bytes);
    expect(worth, 'the file is what it was').toBe('genuine');
    expect(text).toContain('Withdrawn.');
  });

  it.each(['acceptance', 'decline'])('is known whatever its kind: %s', async (kind) => {
    const job = await arriveAtJob(service);
    const open = await offer(service, job, [await findCapacitor(service, job)]);
    if (kind === 'acceptance') await acceptOnly(service, open);
    else await declineAll(service, open);
    const { text } = await verdictOf(await fileOf(job.ticketId, kind));
    const name = { acceptance: 'acceptance of quote', decline: 'paper on the declined quote' };
    expect(text).toContain(`this is our ${name[kind as keyof typeof name]} ${open.body.number}.`);
  });

  it('leaves nothing behind: no row, no file, no word of it', async () => {
    const before = await rowsOfAll(service);
    await verdictOf(file);
    await verdictOf(await cheaper());
    await verdictOf(await foreign());
    expect(await rowsOfAll(service)).toEqual(before);
  });

  it('names no person and no address on any verdict', async () => {
    for (const bytes of [file, await edited(file, () => undefined), await foreign()]) {
      const { page } = await verdictOf(bytes);
      expect(page.text).not.toMatch(/Ashgrove|Thistle|555-0111|Wrenfield/);
    }
  });
});

/** The total of the paper, covered by a smaller one. */
async function cheaper(): Promise<Uint8Array> {
  return edited(file, (_, page) => page.drawText('$104.90', { x: 300, y: 400 }));
}

async function foreign(): Promise<Uint8Array> {
  const document = await PDFDocument.create();
  document.addPage().drawText('Quote 1001: $1.00');
  return document.save();
}

async function otherService(): Promise<TestService> {
  const other = await createTestService();
  const context = { db: other.db, now: other.clock.now(), newId: () => crypto.randomUUID() };
  await registerKey(context, testKey.publicKey);
  return other;
}

describe('what is no file to be read comes back as the form with the reason', () => {
  const own = { 'sec-fetch-site': 'same-origin' };
  const post = () => supertest(service.app.server).post('/verify').set(own);

  it.each<[string, () => PromiseLike<supertest.Response>, number, string]>([
    ['no file chosen', () => post().attach('file', Buffer.alloc(0), ''), 400, 'No file was chosen'],
    [
      'an empty file',
      () => post().attach('file', Buffer.alloc(0), 'quote.pdf'),
      400,
      'This file is empty',
    ],
    ['a form without a file', () => post().field('other', 'x'), 400, 'No file was chosen'],
    ['nothing at all', () => post(), 400, 'No file was chosen'],
    [
      'two files',
      () =>
        post().attach('file', Buffer.from('a'), 'a.pdf').attach('file', Buffer.from('b'), 'b.pdf'),
      400,
      'One file at a time',
    ],
    [
      'a byte too many',
      () => post().attach('file', Buffer.alloc(PAPER_BYTES_MAX + 1), 'a.pdf'),
      413,
      'This file is too large',
    ],
    [
      'eleven megabytes',
      () => post().attach('file', Buffer.alloc(11 * 1024 * 1024), 'a.pdf'),
      413,
      'This file is too large',
    ],
    [
      'another kind of body',
      () => post().type('application/json').send('{}'),
      415,
      'The file did not arrive whole',
    ],
    [
      'a form that is none',
      () => post().type('form').send('file=x'),
      415,
      'The file did not arrive whole',
    ],
    [
      'parts without an end',
      () =>
        post()
          .type('multipart/form-data; boundary=x')
          .send('--x\r\nContent-Disposition: form-data; name="file"; filename="a.pdf"\r\n\r\nhalf'),
      400,
      'The file did not arrive whole',
    ],
    [
      'parts without a mark between them',
      () => post().type('multipart/form-data').send('whatever'),
      400,
      'The file did not arrive whole',
    ],
    [
      'a file called like something of the program',
      () => post().attach('__proto__', Buffer.from('x'), 'a.pdf'),
      400,
      'The file did not arrive whole',
    ],
  ])('%s', async (_, send, status, title) => {
    const page = expectStatus(await send(), status);
    expect(page.headers['content-type']).toBe('text/html; charset=utf-8');
    expect(page.headers['content-security-policy']).toContain("default-src 'none'; style-src");
    expect(textOf(page)).toContain(title);
    expect(page.text).toContain('<form class="send-file" method="post"');
    expect(page.text).toContain('role="alert"');
  });

  it.each([
    ['of another site', { 'sec-fetch-site': 'cross-site' }],
    ['of a neighbor', { 'sec-fetch-site': 'same-site' }],
    ['of an old browser on another site', { origin: 'https://elsewhere.example.com' }],
    ['of something that says neither', {}],
  ])('a file %s', async (_, headers: Record<string, string>) => {
    // A large one too: whoever is still sending it sees the page all the same.
    const large = new Uint8Array(PAPER_BYTES_MAX);
    const page = expectStatus(await reader(service).send(large, { headers }), 403);
    expect(textOf(page)).toContain('Please use the form on this page');
  });

  it('a file too many in a short time, until some time has passed', async () => {
    const text = Buffer.from('no paper');
    for (let at = 0; at < 20; at += 1) expectStatus(await reader(service).send(text), 200);
    const refused = expectStatus(await reader(service).send(text), 429);
    expect(refused.headers['retry-after']).toBe('6');
    expect(textOf(refused)).toContain(
      'Too many files in a short time The last one was not read. Please try again in 6 seconds.',
    );
    service.clock.advance(6_000);
    expectStatus(await reader(service).send(text), 200);
    expectStatus(await reader(service).send(text), 429);
  });

  it('a file for which there is no room just now', async () => {
    const strange = await foreign();
    const answers = await Promise.all(
      Array.from({ length: 6 }, () => reader(service).send(strange)),
    );
    const refused = answers.filter(({ status }) => status === 503);
    expect(refused.length).toBeGreaterThan(0);
    expect(answers.filter(({ status }) => status === 200).length).toBeGreaterThan(0);
    for (const page of refused) {
      expect(page.headers['retry-after']).toBe('5');
      expect(textOf(page)).toContain(
        'Your file was not read Many files are being checked just now',
      );
    }
    expect((await verdictOf(strange)).worth).toBe('cannot_tell');
  });

  it('and an upload that breaks off leaves its room to the next one', async () => {
    const address = service.app.server.address();
    if (address === null || typeof address === 'string') throw new Error('no port is open');
    for (let at = 0; at < 6; at += 1) {
      const socket = connect(address.port, '127.0.0.1');
      socket.write(
        'POST /verify HTTP/1.1\r\nHost: 127.0.0.1\r\nSec-Fetch-Site: same-origin\r\n' +
          'Content-Type: multipart/form-data; boundary=x\r\nContent-Length: 100000\r\n\r\n' +
          '--x\r\nContent-Disposition: form-data; name="file"; filename="a.pdf"\r\n\r\n%PDF-1.7',
      );
      await wait(100);
      socket.destroy();
      await wait(50);
    }
    expect((await verdictOf(Buffer.from('no paper'))).worth).toBe('cannot_tell');
  });
});

describe('the form', () => {
  it('is there in both languages, runs nothing, and says what becomes of the file', async () => {
    const english = expectStatus(await reader(service).get('/verify'), 200);
    expect(textOf(english)).toContain('Is this paper genuine?');
    expect(textOf(english)).toContain('Nothing of it is kept.');
    const inSpanish = await reader(service).get('/verify?lang=es');
    expect(textOf(inSpanish)).toContain('¿Es auténtico este documento?');
    expect(inSpanish.text).toContain('action="/verify?lang=es"');
    expect(english.text).not.toMatch(/<script|<style|\sstyle=|\son\w+=|javascript:/i);
  });
});

it('files that are being read do not hold up the end of the service', async () => {
  const own = await createTestService();
  const strange = await foreign();
  // One is read, and one waits for it: both are not done by then.
  const sent = Array.from({ length: 2 }, () => reader(own).send(strange));
  await wait(300);
  await own.close();
  const statuses = (await Promise.all(sent)).map(({ status }) => status);
  expect(statuses.filter((status) => status === 503).length).toBeGreaterThan(0);
});
