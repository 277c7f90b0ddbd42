import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { composeMail } from '../../src/delivery/compose-mail.ts';
import { letterText } from '../../src/delivery/letter-text.ts';
import { sendBySmtp } from '../../src/delivery/send-by-smtp.ts';
import { flaggedJob, flaggedTwice } from '../audits/judged.ts';
import { inLanguage, sampleKinds } from '../documents/sample-kinds.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';
import { type ReadMail, readMail, workOff } from './mails-of.ts';
import { only, siteWithMail } from './readers.ts';
import { type RealServer, realServer } from './real-server.ts';

// What is put right after the owner looked again reaches whoever paid: the letter as it was frozen
// with the answer, in their language, with the memo as its paper. Each mail goes through a
// conversation with a mail server of somebody else's making.

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

describe.each(['en', 'es'] as const)('what an accepted flag gives back (%s)', (language) => {
  let letter: string;
  let memoId: string;
  let mail: ReadMail;

  beforeAll(async () => {
    const site = await siteWithMail(service, language);
    const { flagId, tag } = await flaggedJob(service, { site });
    await sent();
    const path = `/v1/audit/flags/${flagId}/accept`;
    const { answer } = expectStatus(
      await service.as('owner').post(path, {}, { ifMatch: tag }),
      200,
    ).body;
    letter = answer.letter.text;
    memoId = answer.creditMemos[0].id;
    mail = only(await sent());
  });

  test('goes out with the letter, to the last letter as the owner saw it', () => {
    expect(mail.language).toBe(language);
    expect(mail.text).toContain(`\n\n${letter}\n\n`);
    expect(mail.text).toMatch(
      language === 'es' ? /^Hola, .*\n\nHemos revisado/ : /^Hello .*\n\nWe /,
    );
    // The letter says why; a second reason beside it would only repeat the first.
    expect(mail.text).not.toMatch(/^(Why|Motivo): /m);
    expect(mail.text.match(/\$40\.00/g)).toHaveLength(2);
  });

  test('has the memo as its paper, which is the very file that staff are handed', async () => {
    const file = await service.app.inject({
      url: `/v1/papers/${await paperOf(memoId)}/file?language=${language}`,
      headers: { authorization: `Bearer ${service.staff.owner.token}` },
    });
    expect(file.statusCode).toBe(200);
    expect(mail.pdf.equals(file.rawPayload)).toBe(true);
  });

  test('says the memo’s own words to somebody who reads another language', async () => {
    const other = language === 'es' ? 'en' : 'es';
    await service.owner.query('UPDATE customer SET language = $1', [other]);
    const copy = only(await askFor(memoId));
    expect(copy.language).toBe(other);
    expect(copy.text).not.toContain(letter);
    expect(copy.text).toMatch(other === 'es' ? /^Motivo: /m : /^Why: /m);
  });
});

describe('what an accepted flag gives back on two invoices of one payer', () => {
  let letter: string;
  let memos: { id: string; number: number }[];
  let mails: ReadMail[];

  beforeAll(async () => {
    const { flagId, tag } = await flaggedTwice(service, await siteWithMail(service));
    await sent();
    const path = `/v1/audit/flags/${flagId}/accept`;
    const accepted = await service.as('owner').post(path, {}, { ifMatch: tag });
    const { answer } = expectStatus(accepted, 200).body;
    letter = answer.letter.text;
    memos = answer.creditMemos;
    mails = await sent();
  });

  test('goes out in one mail: the letter once, and every memo it tells of', () => {
    expect(memos).toHaveLength(2);
    const mail = only(mails);
    expect(mail.text).toContain(`\n\n${letter}\n\n`);
    expect(mail.text).toContain('The papers themselves are attached as PDFs.');
    const [first, second] = memos.map(({ number }) => number);
    expect(mail.subject).toMatch(
      new RegExp(`^Credit memos ${first} and ${second} from .*: \\$65\\.00$`),
    );
    expect(mail.files.map(({ fileName }) => fileName)).toEqual([
      `credit-memo-${first}.pdf`,
      `credit-memo-${second}.pdf`,
    ]);
  });

  test('has the very files that staff are handed', async () => {
    const papers = await Promise.all(memos.map(({ id }) => paperOf(id)));
    for (const [at, { pdf }] of only(mails).files.entries()) {
      const url = `/v1/papers/${papers[at]}/file`;
      const headers = { authorization: `Bearer ${service.staff.owner.token}` };
      const file = await service.app.inject({ url, headers });
      expect(pdf.equals(file.rawPayload)).toBe(true);
    }
  });

  test('tells of each memo in the words of a reader of another language', async () => {
    await service.owner.query("UPDATE customer SET language = 'es'");
    const copy = only(await askFor(memos[0]?.id));
    expect(copy.text).not.toContain(letter);
    expect(copy.text).toContain('Los documentos van adjuntos en PDF.');
    for (const { number } of memos) {
      expect(copy.text).toContain(`Esta es la nota de crédito ${number}.`);
    }
    expect(copy.text.match(/^Motivo: /gm)).toHaveLength(1);
    expect(copy.files).toHaveLength(2);
  });

  test('is told again with the first memo alone; any other tells only of itself', async () => {
    await service.owner.query("UPDATE customer SET language = 'en'");
    const copy = only(await askFor(memos[1]?.id));
    expect(copy.text).not.toContain(letter);
    expect(copy.text).toContain(`This is credit memo ${memos[1]?.number}.`);
    expect(copy.files.map(({ fileName }) => fileName)).toEqual([
      `credit-memo-${memos[1]?.number}.pdf`,
    ]);
  });
});

// RFC 5321, 4.5.2: a line of one dot ends a mail. RFC 5322, 2.1.1: 998 letters a line. RFC 3676:
// lines that begin with a space, with "From " or with ">" are altered by some who carry text.
test('no line of a letter is altered on its way', async () => {
  const lines = [
    ...['.', '..', '. a dot and more', '> quoted', 'From here on', '-- ', '=41', 'a = b'],
    ...[
      'ñandú, más o menos: ½ día',
      '李小龍',
      '🙂',
      `${'long '.repeat(400)}end`,
      'x'.repeat(3_000),
    ],
    `${'a word '.repeat(10)}.${'and a dot '.repeat(30)}end`,
  ];
  const written = `We looked again.\n${lines.join('\n')}\n\nWe are sorry.`;
  const memo = Object.values(sampleKinds).find(({ kind }) => kind === 'credit_memo');
  if (memo === undefined) throw new Error('there is a sample memo');
  const letter = letterText({ paper: inLanguage(memo, 'en'), toName: 'Marisol Núñez', written });
  const server = await realServer({ disabledCommands: ['STARTTLS'] });
  const from = { name: 'Cedar Street Comfort', address: 'office@cedar.example' };
  const to = { name: 'Marisol Núñez', address: 'marisol@customer.example' };
  const bytes = await composeMail(
    letter,
    [{ pdf: Buffer.from('%PDF-1.7 a paper'), fileName: 'paper.pdf' }],
    { from, to, messageId: '<memo-1@cedar.example>', date: new Date('2026-07-14T18:00:00Z') },
  );
  const outcome = await sendBySmtp(
    { url: `smtp://127.0.0.1:${server.port}` },
    { from: from.address, to: to.address, bytes },
    { handOver: () => Promise.resolve(true), signal: new AbortController().signal },
  );
  await server.close();
  expect(outcome.outcome).toBe('sent');
  expect(read(server).text).toContain(`\n\n${written}\n\n`);
});

async function paperOf(memoId: string | undefined): Promise<string | undefined> {
  const { rows } = await service.owner.query<{ id: string }>(
    'SELECT id FROM paper WHERE memo_id = $1',
    [memoId],
  );
  return rows[0]?.id;
}

/** Asks for the mail of a memo once more. */
async function askFor(memoId: string | undefined): Promise<ReadMail[]> {
  const path = `/v1/papers/${await paperOf(memoId)}/deliveries`;
  expectStatus(await service.as('owner').post(path, { to: 'payer', channel: 'mail' }), 201);
  return sent();
}

/** Works off what is due through a mail server, and reads what it has. */
async function sent(): Promise<ReadMail[]> {
  const server = await realServer({ disabledCommands: ['STARTTLS'] });
  await workOff(service, {
    mail: { kind: 'smtp', server: { url: `smtp://127.0.0.1:${server.port}` } },
  });
  await server.close();
  return server.arrived.map((raw) => readMail(raw));
}

function read({ arrived }: RealServer): ReadMail {
  return readMail(only(arrived));
}
