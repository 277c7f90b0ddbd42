import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { composeMail } from '../../src/delivery/compose-mail.ts';
import { letterText } from '../../src/delivery/letter-text.ts';
import { sendBySmtp } from '../../src/delivery/send-by-smtp.ts';
import { flaggedJob } from '../audits/judged.ts';
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
    const { rows } = await service.owner.query<{ id: string }>(
      'SELECT id FROM paper WHERE memo_id = $1',
      [memoId],
    );
    const file = await service.app.inject({
      url: `/v1/papers/${rows[0]?.id}/file?language=${language}`,
      headers: { authorization: `Bearer ${service.staff.owner.token}` },
    });
    expect(file.statusCode).toBe(200);
    expect(mail.pdf.equals(file.rawPayload)).toBe(true);
  });

  test('says the memo’s own words to somebody who reads another language', async () => {
    const other = language === 'es' ? 'en' : 'es';
    await service.owner.query('UPDATE customer SET language = $1', [other]);
    const { rows } = await service.owner.query<{ id: string }>(
      'SELECT id FROM paper WHERE memo_id = $1',
      [memoId],
    );
    const path = `/v1/papers/${rows[0]?.id}/deliveries`;
    const asked = { to: 'payer', channel: 'mail' };
    expectStatus(await service.as('owner').post(path, asked), 201);
    const copy = only(await sent());
    expect(copy.language).toBe(other);
    expect(copy.text).not.toContain(letter);
    expect(copy.text).toMatch(other === 'es' ? /^Motivo: /m : /^Why: /m);
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
    { pdf: Buffer.from('%PDF-1.7 a paper'), fileName: 'paper.pdf' },
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
