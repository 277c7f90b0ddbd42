import { afterEach, describe, expect, test } from 'vitest';
import type { Outcome } from '../../src/delivery/outcome.ts';
import { sendBySmtp } from '../../src/delivery/send-by-smtp.ts';
import { type Behavior, type BrokenServer, brokenServer, type Failing } from './broken-server.ts';

// Servers that fail on purpose, on real sockets. What counts is what a server truly has whole: an
// outcome that lets a machine try again must mean that it has nothing.

const TO = 'marisol@customer.example';
const mail = {
  from: 'office@company.example',
  to: TO,
  bytes: Buffer.from(`Subject: quote\r\n\r\n${'.every line\r\n'.repeat(4_000)}`),
};
/** Short, so that servers that stall are given up on while the test waits. */
const timeouts = { connectMs: 2_000, stepMs: 150, finalAnswerMs: 150 };

let server: BrokenServer | undefined;
afterEach(() => server?.close());

interface Sent {
  result: Outcome;
  marks: number;
  arrived: number;
}

async function send(
  behavior: Behavior,
  { extensions = [], spurious, isOurs = true, signal, bytes = mail.bytes }: SendOptions = {},
): Promise<Sent> {
  server = await brokenServer(behavior, {
    extensions,
    ...(spurious !== undefined && { spurious }),
  });
  let marks = 0;
  const handOver = async () => {
    marks += 1;
    // The end must not be there yet, however long the mark takes.
    await new Promise((resolve) => setTimeout(resolve, 20));
    expect(server?.arrived).toHaveLength(0);
    return isOurs;
  };
  const result = await sendBySmtp(
    { url: server.url, timeouts },
    { ...mail, bytes },
    {
      handOver,
      signal: signal ?? AbortSignal.timeout(3_000),
    },
  );
  // Whatever is still under way has the time to arrive.
  await new Promise((resolve) => setTimeout(resolve, 50));
  return { result, marks, arrived: server.arrived.length };
}

interface SendOptions {
  extensions?: readonly string[];
  spurious?: { at: 'RCPT' | 'DATA' | 'end'; reply: string };
  isOurs?: boolean;
  signal?: AbortSignal;
  bytes?: Uint8Array;
}

const reply = (words: string): Failing => ({ does: 'reply', with: words });
/** At the mail itself these are felt only once the line is full. */
const SILENT: readonly string[] = ['stall', 'drip'];
/** Larger than what the sockets of both sides keep: whatever a server does is felt before the end. */
const LARGE = Buffer.alloc(24_000_000, 'large\r\n');
const bytesAt = (step: string) => (step === 'body' ? LARGE : mail.bytes);
const BEFORE = ['greeting', 'EHLO', 'MAIL', 'RCPT', 'DATA', 'body'] as const;

test('a server that works has the mail once, to the last letter, and it counts as sent', async () => {
  const sent = await send({});
  expect(sent).toEqual({ result: { outcome: 'sent' }, marks: 1, arrived: 1 });
  expect(server?.arrived[0]).toBe(mail.bytes.toString());
});

test('a server that takes several commands at once has it once as well', async () => {
  const sent = await send({}, { extensions: ['PIPELINING', 'SIZE 1000000', '8BITMIME'] });
  expect(sent).toEqual({ result: { outcome: 'sent' }, marks: 1, arrived: 1 });
});

describe('before the end nothing has arrived, so it is tried again', () => {
  const failures: Record<string, Failing> = {
    'says it is busy': reply('451 4.3.0 try later'),
    'says goodbye': reply('421 4.3.2 closing'),
    'breaks off': { does: 'drop' },
    'says nothing': { does: 'stall' },
    'says byte after byte and no answer': { does: 'drip' },
    'says what nobody understands': reply('¿que?'),
    'answers with a number alone': reply('999'),
  };
  for (const step of BEFORE) {
    for (const [name, failing] of Object.entries(failures)) {
      if (step === 'body' && SILENT.includes(failing.does)) continue;
      test(`a server that ${name} at ${step}`, async () => {
        const sent = await send({ [step]: failing }, { bytes: bytesAt(step) });
        expect(sent).toMatchObject({ result: { outcome: 'try_again' }, marks: 0, arrived: 0 });
      });
    }
  }

  test('a server that stops reading a mail too large for the line', async () => {
    const sent = await send({ body: { does: 'stall' } }, { bytes: LARGE });
    expect(sent).toMatchObject({ result: { outcome: 'try_again' }, marks: 0, arrived: 0 });
  });

  test('a server that is not there', async () => {
    const gone = await brokenServer({});
    await gone.close();
    const result = await sendBySmtp({ url: gone.url, timeouts }, mail, {
      handOver: () => Promise.reject(new Error('nothing to hand over')),
      signal: AbortSignal.timeout(3_000),
    });
    expect(result.outcome).toBe('try_again');
  });

  test('a server that offers encryption and then cannot', async () => {
    const sent = await send({}, { extensions: ['STARTTLS'] });
    expect(sent).toMatchObject({ result: { outcome: 'try_again' }, marks: 0, arrived: 0 });
  });

  test('a server that says yes before it has the whole mail', async () => {
    const sent = await send({ body: reply('250 2.0.0 taken already') }, { bytes: LARGE });
    expect(sent).toMatchObject({ result: { outcome: 'try_again' }, marks: 0, arrived: 0 });
  });

  test('a server that answers one command twice', async () => {
    const sent = await send({}, { spurious: { at: 'RCPT', reply: '250 2.1.5 ok' } });
    expect(sent.result.outcome).not.toBe('sent');
    if (sent.result.outcome !== 'unsure') expect(sent.arrived).toBe(0);
  });

  test('a password that is not taken is ours to mend, whatever the server calls it', async () => {
    server = await brokenServer({}, { extensions: ['AUTH PLAIN'] });
    const url = server.url.replace('//', '//office:secret@').concat('?ignoreTLS=true');
    const result = await sendBySmtp({ url, timeouts }, mail, {
      handOver: () => Promise.reject(new Error('nothing to hand over')),
      signal: AbortSignal.timeout(3_000),
    });
    expect(result.outcome).toBe('try_again');
  });
});

test('a password goes over no open line unless somebody says so', async () => {
  server = await brokenServer({}, { extensions: ['AUTH PLAIN'] });
  const url = server.url.replace('//', '//office:secret@');
  const result = await sendBySmtp({ url, timeouts }, mail, {
    handOver: () => Promise.reject(new Error('nothing to hand over')),
    signal: AbortSignal.timeout(3_000),
  });
  expect(result.outcome).toBe('try_again');
  expect(server.heard.join('\n')).not.toMatch(/AUTH/);
});

describe('a no for good is final, with the server’s words', () => {
  for (const step of ['MAIL', 'RCPT', 'DATA', 'body', 'end'] as const) {
    test(`at ${step}`, async () => {
      const no = reply('550 5.7.1 we do not want this');
      const sent = await send({ [step]: no }, { bytes: bytesAt(step) });
      expect(sent).toMatchObject({
        result: { outcome: 'refused', answerCode: 550 },
        arrived: 0,
      });
      expect(sent.result).toHaveProperty('reason', expect.stringContaining('we do not want this'));
    });
  }

  test('the customer’s address is not repeated in it, so that erasing the person is enough', async () => {
    const sent = await send({ RCPT: reply(`550 5.1.1 <${TO.toUpperCase()}>: no such user`) });
    expect(sent.result).toHaveProperty(
      'reason',
      'The mail server refused it: 550 5.1.1 <[the address]>: no such user',
    );
  });

  test('an address that no envelope can carry', async () => {
    server = await brokenServer({});
    const result = await sendBySmtp(
      { url: server.url, timeouts },
      { ...mail, to: 'a@b.example>\r\nRCPT TO:<c@d.example' },
      { handOver: () => Promise.resolve(true), signal: AbortSignal.timeout(3_000) },
    );
    expect(result.outcome).toBe('refused');
    expect(server.heard.filter((line) => line.startsWith('RCPT'))).toEqual([]);
  });

  test('a mail that is larger than the server said it takes', async () => {
    const sent = await send({}, { extensions: ['SIZE 1000'] });
    expect(sent).toMatchObject({ result: { outcome: 'refused' }, marks: 0, arrived: 0 });
  });
});

describe('once the end is out', () => {
  test('a server that is too busy for it after all has not taken it: tried again', async () => {
    const sent = await send({ end: reply('452 4.3.1 no room') });
    expect(sent).toMatchObject({
      result: { outcome: 'try_again', answerCode: 452 },
      marks: 1,
      arrived: 0,
    });
  });

  const silences: Record<string, Failing> = {
    'takes it and breaks off': { does: 'drop' },
    'takes it and says nothing': { does: 'stall' },
    'takes it and says so too late': { does: 'late', afterMs: 400 },
    'takes it and says what nobody understands': reply('all fine'),
    'takes it and answers half a number': reply('25'),
    'takes it and asks for more': reply('354 go on'),
    'takes it and says byte after byte': { does: 'drip' },
  };
  test('a server that stops reading a small mail: the line had it all, so nobody knows', async () => {
    const sent = await send({ body: { does: 'stall' } });
    expect(sent).toMatchObject({ result: { outcome: 'unsure' }, marks: 1, arrived: 0 });
  });

  for (const [name, failing] of Object.entries(silences)) {
    test(`a server that ${name}: nobody knows, so no machine tries again`, async () => {
      const sent = await send({ end: failing }, { signal: AbortSignal.timeout(600) });
      expect(sent).toMatchObject({
        result: { outcome: 'unsure', reason: expect.stringContaining('may have arrived') },
        marks: 1,
        arrived: 1,
      });
    });
  }
});

test('a mail that is somebody else’s by now never ends', async () => {
  const sent = await send({}, { isOurs: false });
  expect(sent).toMatchObject({ result: { outcome: 'try_again' }, marks: 1, arrived: 0 });
});

test('a mail whose mark could not be written never ends', async () => {
  server = await brokenServer({});
  const result = await sendBySmtp({ url: server.url, timeouts }, mail, {
    handOver: () => Promise.reject(new Error('the database is away')),
    signal: AbortSignal.timeout(3_000),
  });
  await new Promise((resolve) => setTimeout(resolve, 50));
  expect(result.outcome).toBe('try_again');
  expect(server.arrived).toEqual([]);
});

test('an attempt that was ended before it began opens no connection', async () => {
  const sent = await send({}, { signal: AbortSignal.abort() });
  expect(sent).toMatchObject({ result: { outcome: 'try_again' }, marks: 0, arrived: 0 });
});
