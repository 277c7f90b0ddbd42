import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { composeMail } from '../../src/delivery/compose-mail.ts';
import { letterText } from '../../src/delivery/letter-text.ts';
import { inLanguage, sampleKinds } from '../documents/sample-kinds.ts';
import { readMail } from './mails-of.ts';

const pdf = Buffer.from('%PDF-1.7 a paper of many bytes '.repeat(400));
const envelope = {
  from: { name: 'Cedar Street Comfort', address: 'office@cedar.example' },
  to: { name: 'Marisol Núñez, "Mari" <x@y>', address: 'marisol@customer.example' },
  messageId: '<delivery-1@cedar.example>',
  date: new Date('2026-07-14T18:00:00Z'),
};

async function mailOf(letter: Parameters<typeof letterText>[0], to = envelope.to) {
  const bytes = await composeMail(letterText(letter), [{ pdf, fileName: 'paper.pdf' }], {
    ...envelope,
    to,
  });
  return Buffer.from(bytes).toString('latin1');
}

describe.each(Object.entries(sampleKinds))('a mail about a sample paper: %s', (_, paper) => {
  test.each(['en', 'es'] as const)(
    'comes through whole, in the paper’s words (%s)',
    async (language) => {
      const letter = { paper: inLanguage(paper, language), toName: 'Marisol Núñez' };
      const raw = await mailOf(letter);
      const read = readMail(raw);
      const { subject, text } = letterText(letter);
      expect(read).toMatchObject({ subject, text: expect.stringContaining(text.trim()), language });
      expect(read.pdf.equals(pdf)).toBe(true);
      expect(read.text).toContain(paper.paper.company.phone);
      // Every line ends as RFC 5322, 2.3 has it, and is as short as 2.1.1 would have it.
      expect(raw.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
      expect(Math.max(...raw.split('\r\n').map(({ length }) => length))).toBeLessThanOrEqual(78);
      // The same mail again is the same to the byte.
      expect(await mailOf(letter)).toBe(raw);
    },
  );
});

// RFC 2046, 5.1.1: a boundary has one to seventy letters.
test('the line between text and paper is as short as it has to be, at whatever domain', async () => {
  const [paper] = Object.values(sampleKinds);
  if (paper === undefined) throw new Error('there is a sample paper');
  const domain = `${'a'.repeat(32)}.example`;
  expect(domain).toHaveLength(40);
  const bytes = await composeMail(
    letterText({ paper, toName: 'Marisol Núñez' }),
    [{ pdf, fileName: 'paper.pdf' }],
    { ...envelope, messageId: `<0198c0de-0000-7000-8000-000000000001@${domain}>` },
  );
  const raw = Buffer.from(bytes).toString('latin1');
  const [, boundary = ''] = /boundary="([^"]+)"/.exec(raw) ?? [];
  expect(boundary.length).toBeLessThanOrEqual(70);
  expect(boundary).toContain('0198c0de000070008000000000000001');
  expect(readMail(raw).pdf.equals(pdf)).toBe(true);
});

const link = { url: `https://jobs.example.com/q/${'A'.repeat(43)}` };

test.each(Object.entries(sampleKinds))('%s: what to do stands on one screen', (_, paper) => {
  for (const language of ['en', 'es'] as const) {
    const toName = 'Marisol Núñez';
    const { text } = letterText({ paper: inLanguage(paper, language), toName, link });
    expect(text.split('\n').filter((line) => line !== '').length).toBeLessThanOrEqual(15);
  }
});

describe('a quote of what the evidence does not carry', () => {
  const quotes = Object.values(sampleKinds).flatMap((sample) =>
    sample.kind === 'quote' ? [sample] : [],
  );
  test.each(['en', 'es'] as const)('is mailed without calling it found (%s)', (language) => {
    const [quote] = quotes;
    if (quote === undefined) throw new Error('there is a sample quote');
    const [first, ...others] = quote.paper.findings;
    if (first === undefined) throw new Error('the sample quote has findings');
    const findings = [
      { ...first, name: 'Doubted thing', standing: 'unproven' as const },
      ...others,
    ];
    const paper = inLanguage({ kind: 'quote', paper: { ...quote.paper, findings } }, language);
    const { text } = letterText({ paper, toName: 'Marisol Núñez' });
    const [said] = /^.*Doubted thing.*$/m.exec(text) ?? [];
    expect(said).toMatch(/^(Not proven|No comprobado), .*: Doubted thing\.$/);
    expect(text).toMatch(/^(We found|Encontramos): (?!.*Doubted).*$/m);
  });
});

describe('a quote that is not answered from this mail', () => {
  const paper = Object.values(sampleKinds).find(({ kind }) => kind === 'quote');
  const standings = [
    ...(['waits', 'accepted', 'declined', 'replaced', 'withdrawn', 'expired'] as const),
    ...(['ended', 'parent_cancelled'] as const),
  ];
  test.each(['en', 'es'] as const)(
    'says how it stands, each in words of its own (%s)',
    (language) => {
      if (paper === undefined) throw new Error('there is a sample quote');
      const letters = standings.map((standing) => {
        const letter = { paper: inLanguage(paper, language), toName: 'Marisol Núñez', standing };
        const { text } = letterText(letter);
        expect(text).toMatch(/This is a copy|Esta es una copia/);
        expect(text).not.toMatch(/These prices stand|Estos precios valen/);
        // What a no would cost is said only while there is something to answer.
        expect(/If you say no|Si dice que no/.test(text)).toBe(standing === 'waits');
        return text;
      });
      expect(new Set(letters).size).toBe(standings.length);
    },
  );
});

// RFC 5322, 3.4.1 and 3.2.3: all of these are letters of an address.
test.each([
  "o'brien+ac/unit=3@customer.example",
  'a.b_c-d{e}|f~g!#$%&*?^`@sub-domain.customer.example',
  'jane@xn--exmple-cua.example',
])('an odd but valid address comes through as it is: %s', async (address) => {
  const [paper] = Object.values(sampleKinds);
  if (paper === undefined) throw new Error('there is a sample paper');
  const raw = await mailOf({ paper, toName: '李小龍 Мария' }, { name: '李小龍 Мария', address });
  expect(readMail(raw).to).toBe(`李小龍 Мария <${address}>`);
});

// A customer's name is typed by whoever takes the call: it must start no header and no recipient.
test('no name adds a header, a recipient or a paragraph', async () => {
  const [paper] = Object.values(sampleKinds);
  if (paper === undefined) throw new Error('there is a sample paper');
  const piece = fc.constantFrom(
    ...['\r\n', '\n', '\r', 'Bcc: a@evil.example', '\r\n\r\n', '<a@evil.example>', ',', '"', ';'],
    ...['=?utf-8?q?=0D=0ABcc:?=', '\u2028', '\u202e', '李', 'Ana', '\u0000', '(', '\\'],
  );
  await fc.assert(
    fc.asyncProperty(fc.array(piece, { minLength: 1, maxLength: 12 }), async (pieces) => {
      const name = pieces.join('');
      const raw = await mailOf({ paper, toName: name }, { ...envelope.to, name });
      const head = raw.slice(0, raw.indexOf('\r\n\r\n'));
      const names = [...head.matchAll(/^([\w-]+):/gm)].map(([, field]) => field?.toLowerCase());
      expect(names.sort()).toEqual(HEADERS);
      expect(head).toMatch(/^To:\s(?:[\s\S]* <)?marisol@customer\.example>?\r\n/m);
      expect(readMail(raw).text.split('\n\n')[0]).toMatch(/^(Hello |Hola, )[^\n]*$/);
    }),
  );
});

const HEADERS = [
  'auto-submitted',
  'content-language',
  'content-type',
  'date',
  'from',
  'message-id',
  'mime-version',
  'subject',
  'to',
];
