import { mkdtemp, readdir, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { pino } from 'pino';
import { type DeliveryDeps, startDelivering } from '../../src/delivery/index.ts';
import { readPaper } from '../../src/papers/index.ts';
import { timedIds } from '../../src/platform/ids.ts';
import { testPapers } from '../harness/test-papers.ts';
import type { TestService } from '../harness/test-service.ts';
import { until } from './until.ts';

/** A mail as its reader sees it. */
export interface ReadMail {
  deliveryId: string;
  to: string;
  subject: string;
  language: string;
  text: string;
  fileName: string;
  pdf: Buffer;
  /** All files of the mail, of which the two above are the first. */
  files: readonly MailFile[];
}

export interface MailFile {
  fileName: string;
  pdf: Buffer;
}

/** Works off everything that is due at a service, into files, and reads them. */
export async function mailsOf(
  service: TestService,
  ways: Partial<DeliveryDeps> = {},
): Promise<ReadMail[]> {
  const directory = await mkdtemp(path.join(tmpdir(), 'evenhand-mail-'));
  await workOff(service, { mail: { kind: 'files', directory }, ...ways });
  const names = (await readdir(directory)).sort();
  const mails = await Promise.all(
    names.map(async (name) => readMail(await readFile(path.join(directory, name), 'latin1'))),
  );
  await rm(directory, { recursive: true });
  return mails;
}

/** Works off everything that is due at a service, by the ways that are given. */
export async function workOff(
  service: TestService,
  ways: Pick<DeliveryDeps, 'mail'> & Partial<DeliveryDeps>,
): Promise<void> {
  const { db, clock } = service;
  const ids = timedIds(clock);
  const papers = testPapers();
  const worker = startDelivering(
    {
      ...{ db, clock, ids, log: pino({ level: 'silent' }), text: undefined, mailFrom: undefined },
      publicUrl: 'https://company.example/',
      papers: {
        read: async (paperId, language) => {
          const newId = () => ids.next();
          const context = { prisma: db.prisma, db, now: clock.now(), newId, papers };
          const { paper, file } = await readPaper(context, paperId, language);
          return { paper, pdf: file.bytes, fileName: file.fileName };
        },
      },
      ...ways,
    },
    { everyMs: 20 },
  );
  await until(
    () =>
      db.prisma.deliveryState.count({
        where: { OR: [{ state: 'sending' }, { state: 'waiting', nextAt: { lte: clock.now() } }] },
      }),
    (underWay) => underWay === 0,
  );
  await worker.stop();
}

/** Takes a mail of ours apart, by the rules of RFC 2045 and 2047 and nothing of what composed it. */
export function readMail(raw: string): ReadMail {
  const [head = '', ...rest] = raw.split('\r\n\r\n');
  const headers = headersOf(head);
  const boundary = /boundary="([^"]+)"/.exec(headers('content-type'))?.[1] ?? '';
  const [, text = '', ...parts] = rest.join('\r\n\r\n').split(`--${boundary}`);
  const [textHead = '', ...textBody] = text.replace(/^\r\n/, '').split('\r\n\r\n');
  // After the last part the line ends with two dashes.
  const files = parts.filter((part) => !part.startsWith('--')).map(fileIn);
  return {
    deliveryId: headers('message-id').slice(1).split('@')[0] ?? '',
    to: headers('to'),
    subject: headers('subject'),
    language: headers('content-language'),
    text: bodyOf(headersOf(textHead), textBody.join('\r\n\r\n'))
      .toString('utf8')
      .replaceAll('\r\n', '\n'),
    fileName: files[0]?.fileName ?? '',
    pdf: files[0]?.pdf ?? Buffer.alloc(0),
    files,
  };
}

function fileIn(part: string): MailFile {
  const [head = '', ...body] = part.replace(/^\r\n/, '').split('\r\n\r\n');
  return {
    fileName: /filename="?([^";]+)/.exec(headersOf(head)('content-disposition'))?.[1] ?? '',
    pdf: bodyOf(headersOf(head), body.join('\r\n\r\n')),
  };
}

function headersOf(head: string): (name: string) => string {
  const lines = head.replace(/\r\n[ \t]+/g, ' ').split('\r\n');
  return (name) => {
    const line = lines.find((found) => found.toLowerCase().startsWith(`${name}:`)) ?? '';
    return decoded(line.slice(name.length + 1).trim());
  };
}

function decoded(value: string): string {
  return value
    .replace(/\?=\s+=\?/g, '?==?')
    .replace(/(?:=\?utf-8\?q\?[^?]*\?=)+/gi, (words) =>
      quotedPrintable(words.replace(/=\?utf-8\?q\?|\?=/gi, '').replaceAll('_', ' ')).toString(),
    )
    .replace(/(?:=\?utf-8\?b\?[^?]*\?=)+/gi, (words) =>
      Buffer.concat(
        [...words.matchAll(/=\?utf-8\?b\?([^?]*)\?=/gi)].map(([, part = '']) =>
          Buffer.from(part, 'base64'),
        ),
      ).toString(),
    );
}

function bodyOf(headers: (name: string) => string, body: string): Buffer {
  const encoding = headers('content-transfer-encoding');
  if (encoding === 'base64') return Buffer.from(body, 'base64');
  return encoding === 'quoted-printable' ? quotedPrintable(body) : Buffer.from(body, 'latin1');
}

function quotedPrintable(body: string): Buffer {
  const bytes = body
    .replace(/=\r\n/g, '')
    .replace(/=([0-9A-F]{2})/g, (_, hex: string) => String.fromCharCode(Number.parseInt(hex, 16)));
  return Buffer.from(bytes, 'latin1');
}
