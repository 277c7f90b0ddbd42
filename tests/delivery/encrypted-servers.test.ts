import type { SMTPServerOptions } from 'smtp-server';
import { afterEach, describe, expect, test } from 'vitest';
import type { Outcome } from '../../src/delivery/outcome.ts';
import { sendBySmtp } from '../../src/delivery/send-by-smtp.ts';
import { inventedCertificate } from './invented-certificate.ts';
import { type RealServer, realServer } from './real-server.ts';

// Real servers as a company has them: with a certificate, and a name and a password to send by.

const USER = 'office@company.example';
const PASSWORD = 'c0rrect:horse/bättery';
const mail = {
  from: USER,
  to: 'marisol@customer.example',
  bytes: Buffer.from(`Subject: quote\r\n\r\n${'every line\r\n'.repeat(2_000)}`),
};
const timeouts = { connectMs: 2_000, stepMs: 2_000, finalAnswerMs: 2_000 };
const certificate = inventedCertificate();

let server: RealServer | undefined;
afterEach(() => server?.close());

const withPassword: SMTPServerOptions = {
  authOptional: false,
  onAuth: ({ username, password }, _session, done) => {
    if (username === USER && password === PASSWORD) return done(null, { user: username });
    const refused = Object.assign(new Error(`5.7.8 ${username}: bad credentials`), {
      responseCode: 535,
    });
    return done(refused);
  },
};

interface Asked {
  options?: SMTPServerOptions;
  scheme?: 'smtp' | 'smtps';
  host?: string;
  login?: [user: string, password: string];
  query?: Record<string, string>;
}

async function send({
  options,
  scheme = 'smtp',
  host = 'localhost',
  login,
  query = { 'tls.ca': certificate.cert },
}: Asked): Promise<Outcome> {
  const { key, cert } = certificate;
  server = await realServer({ key, cert, secure: scheme === 'smtps', ...options });
  const who = login ? `${login.map(encodeURIComponent).join(':')}@` : '';
  const url = `${scheme}://${who}${host}:${server.port}?${new URLSearchParams(query)}`;
  return sendBySmtp({ url, timeouts }, mail, {
    handOver: () => Promise.resolve(true),
    signal: AbortSignal.timeout(10_000),
  });
}

describe('a server whose certificate holds', () => {
  test.each(['PLAIN', 'LOGIN'])('has the mail, once it knows who sends it (%s)', async (method) => {
    const options = { ...withPassword, authMethods: [method] };
    expect(await send({ options, login: [USER, PASSWORD] })).toEqual({ outcome: 'sent' });
    expect(server?.sessions).toEqual([{ user: USER, secure: true, to: [mail.to] }]);
    expect(server?.arrived).toEqual([mail.bytes.toString()]);
  });

  test('has it from the first byte on under encryption, at an smtps address', async () => {
    const login: Asked['login'] = [USER, PASSWORD];
    expect(await send({ options: withPassword, scheme: 'smtps', login })).toEqual({
      outcome: 'sent',
    });
    expect(server?.sessions).toEqual([{ user: USER, secure: true, to: [mail.to] }]);
  });

  test('is talked to under encryption wherever it offers that, password or not', async () => {
    expect(await send({})).toEqual({ outcome: 'sent' });
    expect(server?.sessions).toEqual([{ user: undefined, secure: true, to: [mail.to] }]);
  });
});

describe('a server that cannot show whose it is gets no mail, and the reason says what is wrong', () => {
  const past = inventedCertificate({ validTo: '210101000000Z' });
  const stranger = inventedCertificate({ name: 'mail.stranger.example' });
  const cases: Record<string, [string, Asked]> = {
    'made by itself': ['self-signed certificate', { query: {} }],
    'run out': ['certificate has expired', { options: past, query: { 'tls.ca': past.cert } }],
    'of another name': [
      'mail.stranger.example',
      { options: stranger, query: { 'tls.ca': stranger.cert } },
    ],
  };
  for (const [name, [words, asked]] of Object.entries(cases)) {
    for (const scheme of ['smtp', 'smtps'] as const) {
      test(`a certificate ${name} (${scheme})`, async () => {
        const outcome = await send({ ...asked, scheme, login: [USER, PASSWORD] });
        expect(outcome).toMatchObject({
          outcome: 'try_again',
          reason: expect.stringMatching(/^The certificate of the mail server does not hold: /),
        });
        expect(outcome).toHaveProperty('reason', expect.stringContaining(words));
        expect(server?.arrived).toEqual([]);
      });
    }
  }

  test('unless whoever set it up says that it shall be taken as it is', async () => {
    const query = { 'tls.rejectUnauthorized': 'false' };
    expect(await send({ query })).toEqual({ outcome: 'sent' });
  });
});

// Nothing of the customer's is wrong, and everything that waits goes out once somebody has put the
// password right: so it waits, and says why.
describe('a server that does not let us in', () => {
  test.each(['PLAIN', 'LOGIN'])('with a wrong password (%s)', async (method) => {
    const options = { ...withPassword, authMethods: [method] };
    const outcome = await send({ options, login: [USER, `${PASSWORD}!`] });
    expect(outcome).toMatchObject({
      outcome: 'try_again',
      answerCode: 535,
      reason: expect.stringMatching(/^The mail server did not let us in: .*bad credentials/),
    });
    const said = JSON.stringify(outcome);
    for (const secret of [PASSWORD, `\0${USER}\0${PASSWORD}!`]) {
      expect(said).not.toContain(secret);
      expect(said).not.toContain(Buffer.from(secret).toString('base64').slice(0, 20));
    }
    expect(server?.arrived).toEqual([]);
  });

  test('without any', async () => {
    const outcome = await send({ options: withPassword });
    expect(outcome).toMatchObject({
      outcome: 'try_again',
      answerCode: 530,
      reason: expect.stringMatching(/^The mail server did not let us in: 530 /),
    });
    expect(server?.arrived).toEqual([]);
  });

  test('over an open line: no mail either, where whoever set it up asks for encryption', async () => {
    const options = { disabledCommands: ['STARTTLS'] };
    const outcome = await send({ options, query: { requireTLS: 'true' } });
    expect(outcome.outcome).toBe('try_again');
    expect(server?.arrived).toEqual([]);
    await server?.close();
    // Such a server takes it where nobody asks.
    expect(await send({ options })).toEqual({ outcome: 'sent' });
  });

  test('over an open line: no password is sent to a server that offers no encryption', async () => {
    let asked = 0;
    const onAuth: SMTPServerOptions['onAuth'] = (_login, _session, done) => {
      asked += 1;
      done(null, { user: USER });
    };
    const options = { onAuth, disabledCommands: ['STARTTLS'], allowInsecureAuth: true };
    const outcome = await send({ options, login: [USER, PASSWORD] });
    expect(outcome).toMatchObject({
      outcome: 'try_again',
      reason: expect.stringMatching(/^The mail server could not be talked to under encryption: /),
    });
    expect(asked).toBe(0);
  });
});
