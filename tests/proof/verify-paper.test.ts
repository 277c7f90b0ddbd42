import { generateKeyPairSync } from 'node:crypto';
import { deflateSync } from 'node:zlib';
import fc from 'fast-check';
import {
  AFRelationship,
  degrees,
  PDFDict,
  PDFDocument,
  PDFName,
  PDFRawStream,
  PDFString,
  rgb,
  StandardFonts,
} from 'pdf-lib';
import { beforeAll, describe, expect, it } from 'vitest';
import { type PaperSheet, renderPaper } from '../../src/documents/index.ts';
import { drawToSeal } from '../../src/proof/draw-to-seal.ts';
import { paperKeyOf } from '../../src/proof/load-paper-key.ts';
import {
  dataNames,
  type PaperData,
  readPaperData,
  writePaperData,
} from '../../src/proof/paper-data.ts';
import { pagesDigest } from '../../src/proof/pdf/pages-digest.ts';
import { readStrictly } from '../../src/proof/pdf/read-strictly.ts';
import { sealPaper } from '../../src/proof/seal-paper.ts';
import { signDetached } from '../../src/proof/sign-detached.ts';
import { tellVerdict } from '../../src/proof/tell-verdict.ts';
import { verifyPaper } from '../../src/proof/verify-paper.ts';
import { sampleKinds } from '../documents/sample-kinds.ts';
import { lumpSum, samplePapers, threeOptions } from '../documents/sample-papers.ts';
import { dearer, key, keys, sealQuote } from './sealed-papers.ts';
import { appendedTo, edited, locked, patched } from './tamper.ts';

const GENUINE = 'Genuine: this is our quote Q-10046.';
const SAME_PAGES = 'The pages are our quote Q-10046. The file is not packed as we pack it today.';
const ALTERED = 'Altered: this is not the paper as we signed it.';
const DATA_WHOLE =
  'The signed data inside is our quote Q-10046 and is whole. The file around it was changed. Ask for the file as we sent it.';
const UNSIGNED = 'The signature does not fit the data inside. Do not rely on this paper.';

let sheet: PaperSheet;
let genuine: Uint8Array;
let dataBytes: Uint8Array;
let pageCount: number;

beforeAll(async () => {
  sheet = await sealQuote(lumpSum);
  genuine = await renderPaper(sheet);
  dataBytes = attached(sheet, 'Data');
  pageCount = (await PDFDocument.load(genuine, { updateMetadata: false })).getPageCount();
});

function attached({ attachments }: PaperSheet, relationship: 'Data' | 'Supplement'): Uint8Array {
  return attachments.find((each) => each.relationship === relationship)?.bytes ?? new Uint8Array();
}

async function told(bytes: Uint8Array): Promise<string[]> {
  const { headline, meaning, differences } = tellVerdict(await verifyPaper(bytes, keys), 'en');
  return [headline, ...differences, meaning];
}

/** The data as they would have been signed had the change been made before. */
function changedData(change: (data: PaperData) => PaperData): Uint8Array {
  const data = readPaperData(dataBytes);
  if (data === undefined) throw new Error('the sample has no data');
  return writePaperData(change(data));
}

/** The genuine pages with other files attached in the places of ours. */
function withAttached(data: Uint8Array, signature: string): Promise<Uint8Array> {
  const [first, second] = sheet.attachments;
  if (first === undefined || second === undefined) throw new Error('the sample has no proof');
  const attachments = [
    { ...first, bytes: data },
    { ...second, bytes: Buffer.from(signature) },
  ];
  return renderPaper({ ...sheet, attachments });
}

describe('a paper as we made it', () => {
  it.each(Object.entries(samplePapers))('is genuine: %s', async (_, paper) => {
    const file = await renderPaper(await sealQuote(paper));
    expect((await verifyPaper(file, keys)).verdict).toBe('genuine');
  });

  it.each(Object.entries(sampleKinds))('is genuine whatever its kind: %s', async (_, paper) => {
    const { language } = paper.paper;
    const sealed = await sealPaper({ paper, number: '2041', language, key, draw: drawToSeal });
    const file = await renderPaper(sealed.sheet);
    expect(Buffer.compare(sealed.bytes, file)).toBe(0);
    const verdict = await verifyPaper(file, keys);
    expect(verdict).toMatchObject({
      verdict: 'genuine',
      paper: { kind: paper.kind, number: '2041', language },
    });
    expect((await verifyPaper(await edited(file, () => {}), keys)).verdict).toBe('same_pages');
  });

  it('says so in words for a customer', async () => {
    expect(await told(genuine)).toEqual([
      GENUINE,
      'It is to the last byte the file that we made and signed.',
    ]);
  });

  it('keeps our pages when a program packs the file anew, and is not called genuine any more', async () => {
    for (const useObjectStreams of [false, true]) {
      const [headline, meaning] = await told(await edited(genuine, () => {}, useObjectStreams));
      expect(headline).toBe(SAME_PAGES);
      expect(meaning).toContain('Another program has saved the file');
    }
  });

  it('is told apart from it, to the byte', async () => {
    const { length } = genuine;
    const places = fc.integer({ min: 0, max: length - 1 });
    await fc.assert(
      fc.asyncProperty(places, fc.integer({ min: 1, max: 255 }), async (at, change) => {
        const other = genuine.slice();
        other[at] = (other[at] ?? 0) ^ change;
        expect((await verifyPaper(other, keys)).verdict).not.toBe('genuine');
      }),
      { numRuns: 30 },
    );
  });
});

describe('what a forger may do is told exactly', () => {
  it('another price on the pages', async () => {
    const forged = await renderPaper({ ...sheet, paper: { kind: 'quote', paper: dearer } });
    const lines = await told(forged);
    expect(lines[0]).toBe(ALTERED);
    expect(lines).toContain('Page 1 says $3,821.00; the signed data says $382.10.');
    expect(lines.at(-1)).toBe(DATA_WHOLE);
  });

  it('another price in the data', async () => {
    const data = changedData((data) => ({ ...data, paper: dearer }));
    const lines = await told(await withAttached(data, signDetached(dataBytes, key)));
    expect(lines[0]).toBe(ALTERED);
    expect(lines).toContain('Page 1 says $382.10; the data inside says $3,821.00.');
    expect(lines.at(-1)).toBe(UNSIGNED);
  });

  it('another price on the pages and in the data, with the signature that was there', async () => {
    const data = changedData((data) => ({ ...data, paper: dearer }));
    const [first, second] = sheet.attachments;
    if (first === undefined || second === undefined) throw new Error('the sample has no proof');
    const attachments = [{ ...first, bytes: data }, second];
    const forged = await renderPaper({
      ...sheet,
      paper: { kind: 'quote', paper: dearer },
      attachments,
    });
    expect(await told(forged)).toEqual([
      ALTERED,
      'The pages and the data inside agree with each other but not with the signature. Both were changed after we signed, or the signature was.',
      UNSIGNED,
    ]);
  });

  it('everything anew, signed with a key of his own', async () => {
    const stranger = paperKeyOf(generateKeyPairSync('ed25519').privateKey);
    const forged = await renderPaper(await sealQuote(dearer, stranger));
    expect(await told(forged)).toEqual([
      'Not signed by us, as far as these keys can tell.',
      'The paper carries a signature, but none of the published keys made it. Do not rely on it; ask us.',
    ]);
  });

  it('everything anew, signed with a key of his own under the name of ours', async () => {
    const { privateKey } = generateKeyPairSync('ed25519');
    const forged = await renderPaper(
      await sealQuote(dearer, { privateKey, publicKey: key.publicKey }),
    );
    expect((await told(forged)).at(-1)).toBe(UNSIGNED);
  });

  it('the proof of another genuine paper', async () => {
    const { attachments } = await sealQuote(threeOptions);
    const lines = await told(await renderPaper({ ...sheet, attachments }));
    expect(lines[0]).toBe(ALTERED);
    expect(lines.at(-1)).toContain('The signed data inside is our quote');
    expect(lines.at(-1)).not.toContain('Q-10046');
    expect(lines.join('\n')).toContain('$382.10');
  });
});

/** Attacks with an ordinary PDF library on the genuine file, and all that is said of each. */
const edits: Record<
  string,
  { change: Parameters<typeof edited>[1]; says: string[] | ((pageCount: number) => string[]) }
> = {
  'an amount written over the page': {
    change: async (document, page) => {
      const font = await document.embedFont(StandardFonts.Helvetica);
      page.drawRectangle({ x: 400, y: 400, width: 90, height: 20, color: rgb(1, 1, 1) });
      page.drawText('$1,850.00', { x: 402, y: 404, size: 11, font });
    },
    says: ['Page 1 says $1,850.00; the signed data does not.'],
  },
  'a white patch over a line': {
    change: (_, page) =>
      page.drawRectangle({ x: 40, y: 300, width: 500, height: 90, color: rgb(1, 1, 1) }),
    says: [
      'Page 1 has the same words but is drawn otherwise than the signed data draws it: something may have been moved, covered or added.',
    ],
  },
  'a picture over a line': {
    change: async (document, page) => {
      const dot =
        'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR4nGP4//8/AwAI/AL+p5qgoAAAAABJRU5ErkJggg==';
      page.drawImage(await document.embedPng(dot), { x: 40, y: 300, width: 500, height: 90 });
    },
    says: [
      'Page 1 has the same words but is drawn otherwise than the signed data draws it: something may have been moved, covered or added.',
    ],
  },
  'a form field over a price': {
    change: ({ context }, page) => {
      const field = context.obj({
        Subtype: 'Widget',
        FT: 'Tx',
        T: PDFString.of('total'),
        V: PDFString.of('$1,850.00'),
        Rect: [400, 400, 490, 420],
      });
      page.node.set(PDFName.of('Annots'), context.obj([context.register(field)]));
    },
    says: ['On page 1 lies a field to fill in that we did not put there.'],
  },
  'a note over a price': {
    change: ({ context }, page) => {
      const note = context.obj({
        Type: 'Annot',
        Subtype: 'FreeText',
        Rect: [400, 400, 490, 420],
        Contents: PDFString.of('$1,850.00'),
        DA: PDFString.of('/Helv 12 Tf'),
      });
      page.node.set(PDFName.of('Annots'), context.obj([context.register(note)]));
    },
    says: ['On page 1 lies a note, a stamp or a drawing that we did not put there.'],
  },
  'a link over the code': {
    change: ({ context }, page) => {
      const action = { S: 'URI', URI: PDFString.of('https://elsewhere.example.com/') };
      const link = context.obj({ Subtype: 'Link', Rect: [0, 0, 600, 700], A: action });
      page.node.set(PDFName.of('Annots'), context.obj([context.register(link)]));
    },
    says: ['On page 1 lies a link that we did not put there.'],
  },
  'a page of his own': {
    change: (document) => document.addPage([612, 792]).drawText('We also owe you nothing.'),
    says: (pageCount) => [`Page ${pageCount + 1} is not in the signed data.`],
  },
  'a page less': {
    change: (document) => document.removePage(1),
    says: ['Page 2 of the signed data is missing.'],
  },
  'pages in another order': {
    change: (document) => {
      const [second] = [document.getPage(1)];
      document.removePage(1);
      document.insertPage(0, second);
    },
    says: ['The pages stand in another order than in the signed data.'],
  },
  'a page cut at its edge': {
    change: (_, page) => page.setCropBox(0, 0, 612, 780),
    says: ['Page 1 was cropped, turned or made another size.'],
  },
  'a page turned': {
    change: (_, page) => page.setRotation(degrees(180)),
    says: ['Page 1 was cropped, turned or made another size.'],
  },
  'a program that runs on opening': {
    change: (document) => document.addJavaScript('pay', 'app.alert("Pay here");'),
    says: ['Opening the file starts something. Our papers never do.'],
  },
  'something started on opening': {
    change: ({ catalog, context }) => {
      const launch = { S: 'Launch', F: PDFString.of('pay.exe') };
      catalog.set(PDFName.of('OpenAction'), context.obj(launch));
    },
    says: ['Opening the file starts something. Our papers never do.'],
  },
  'something started on turning to a page': {
    change: ({ context }, page) => {
      const action = { O: { S: 'URI', URI: PDFString.of('https://elsewhere.example.com/') } };
      page.node.set(PDFName.of('AA'), context.obj(action));
    },
    says: ['Opening the file starts something. Our papers never do.'],
  },
  'another title': {
    change: (document) => document.setTitle('Paid in full'),
    says: [
      'The file is titled "Paid in full"; the signed data says "Repair quote Q-10046, revision 1, from Cedar Street Comfort".',
    ],
  },
  'another file attached': {
    change: (document) => document.attach(Buffer.from('pay elsewhere'), 'bank.txt'),
    says: ['The file "bank.txt" was attached to it, not by us.'],
  },
  'a second file under the name of the data': {
    change: (document) => document.attach(Buffer.from('{}'), 'quote-Q-10046.json'),
    says: ['The file "quote-Q-10046.json" was attached to it, not by us.'],
  },
  'letters that look like other letters': {
    change: ({ context }) => {
      const faces = context
        .enumerateIndirectObjects()
        .flatMap(([, each]) => (each instanceof PDFDict && each.has(FONT_FILE) ? [each] : []));
      const [first, second] = faces;
      first?.set(FONT_FILE, second?.get(FONT_FILE) ?? context.obj(null));
    },
    says: (pageCount) =>
      Array.from(
        { length: pageCount },
        (_, index) =>
          `Page ${index + 1} has the same words but is drawn otherwise than the signed data draws it: something may have been moved, covered or added.`,
      ),
  },
};

const FONT_FILE = PDFName.of('FontFile2');

describe('what can be done to the file with any PDF program is told exactly', () => {
  it.each(Object.entries(edits))('%s', async (_, { change, says }) => {
    const lines = typeof says === 'function' ? says(pageCount) : says;
    expect(await told(await edited(genuine, change))).toEqual([ALTERED, ...lines, DATA_WHOLE]);
  });

  it('a change appended to the file', async () => {
    const ink = 'BT /F1 12 Tf 72 700 Td <0003> Tj ET';
    const lines = await told(appendedTo(genuine, ink));
    expect(lines[0]).toBe(ALTERED);
    expect(lines[1]).toMatch(
      /^Page 1 says .{1,2}; the signed data says Cedar Street Comfort .*\$382\.10/,
    );
    expect(lines).toContain('Something was added to the end of the file after it was finished.');
    expect(lines.at(-1)).toBe(DATA_WHOLE);
  });

  it('letters after the end', async () => {
    const longer = Buffer.concat([genuine, Buffer.from('Paid in full.')]);
    expect(await told(longer)).toEqual([
      ALTERED,
      'Something was added to the end of the file after it was finished.',
      DATA_WHOLE,
    ]);
  });

  it('a lock that opens by itself', async () => {
    expect(await told(locked(genuine, ''))).toEqual([
      ALTERED,
      'The file was locked after we made it.',
      DATA_WHOLE,
    ]);
  });
});

describe('of what nobody can know, nothing is claimed', () => {
  const unsure = [
    'We cannot tell for sure. The data inside is our quote Q-10046.',
    'We read the same words in it as in the signed data, but another program has saved the file. Ask for the file as we sent it.',
  ];

  it.each<[string, () => Uint8Array | Promise<Uint8Array>, string[]]>([
    [
      'a table of objects that viewers must rebuild, each in its own way',
      () => patched(genuine, /startxref\n\d/, 'startxref\n9'),
      unsure,
    ],
    [
      'a description for other programs that says other things',
      () =>
        edited(genuine, ({ catalog, context }) => {
          const other = context.stream('<x:xmpmeta xmlns:x="adobe:ns:meta/"/>');
          catalog.set(PDFName.of('Metadata'), context.register(other));
        }),
      unsure,
    ],
    [
      'an unsigned file',
      async () => {
        const empty = await PDFDocument.create();
        empty.addPage();
        return empty.save();
      },
      [
        'We cannot tell: there is no signed data of ours in this file.',
        'Printing, scanning or saving as a picture loses it. Ask for the file as we sent it, or look the paper up by its fingerprint.',
      ],
    ],
    [
      'a file that asks for a password',
      () => locked(genuine, 'secret'),
      [
        'We cannot tell: the file cannot be read.',
        'It is locked with a password. Our papers never are.',
      ],
    ],
    [
      'half a file',
      () => genuine.subarray(0, 2_000),
      [
        'We cannot tell: the file cannot be read.',
        'It is damaged. Ask for the file as we sent it.',
      ],
    ],
    [
      'something else',
      () => Buffer.from('hello'),
      ['We cannot tell: the file cannot be read.', 'It is not a PDF file.'],
    ],
    [
      'nothing',
      () => new Uint8Array(),
      ['We cannot tell: the file cannot be read.', 'It is not a PDF file.'],
    ],
    [
      'something before the beginning',
      () => Buffer.concat([Buffer.from('\n'), genuine]),
      ['We cannot tell: the file cannot be read.', 'It is not a PDF file.'],
    ],
    [
      'a hundred million bytes packed small, as a page',
      () =>
        edited(genuine, ({ context }, page) => {
          const bomb = deflateSync(Buffer.alloc(100_000_000, ' '));
          const dict = context.obj({ Filter: 'FlateDecode', Length: bomb.length });
          const stream = PDFRawStream.of(dict, bomb);
          page.node.set(PDFName.of('Contents'), context.register(stream));
        }),
      ['We cannot tell: the file cannot be read.', 'It is larger than any paper of ours.'],
    ],
  ])('%s', async (_, make, says) => {
    expect(await told(new Uint8Array(await make()))).toEqual(says);
  });
});

describe('a paper of an earlier release, which drew it in other words', () => {
  /** As an earlier release would have made it: with a line that today's does not print. */
  async function drawnEarlier(): Promise<Uint8Array> {
    const bare = await renderPaper({ ...sheet, attachments: [] });
    const pages = await edited(bare, async (document, page) => {
      const font = await document.embedFont(StandardFonts.Helvetica);
      page.drawText('Thank you for your trust.', { x: 40, y: 20, size: 8, font });
    });
    const pagesSha256 = pagesDigest(readStrictly(pages));
    const data = changedData((data) => ({ ...data, renderer: 'evenhand-paper-1', pagesSha256 }));
    const names = dataNames('quote', lumpSum.quoteNumber);
    const signature = Buffer.from(signDetached(data, key));
    const [first, second] = sheet.attachments;
    return edited(pages, async (document) => {
      await document.attach(data, names.data, {
        description: first?.description ?? '',
        afRelationship: AFRelationship.Data,
      });
      await document.attach(signature, names.signature, {
        description: second?.description ?? '',
        afRelationship: AFRelationship.Supplement,
      });
    });
  }

  it('is known by its pages, which were signed as they looked then', async () => {
    const verdict = await verifyPaper(await drawnEarlier(), keys);
    expect(verdict).toMatchObject({ verdict: 'same_pages', paper: { number: 'Q-10046' } });
  });

  it('is not called altered for words that may be ours', async () => {
    const saved = patched(await drawnEarlier(), /startxref\n\d/, 'startxref\n9');
    const lines = await told(saved);
    expect(lines[0]).toBe('We cannot tell for sure. The data inside is our quote Q-10046.');
    expect(lines).toContain('Page 1 says Thank you for your trust.; the signed data does not.');
    expect(lines.at(-1)).toContain('Differences in wording may be ours.');
  });

  it('is called altered for an amount that is not in the data', async () => {
    const forged = await edited(await drawnEarlier(), async (document, page) => {
      const font = await document.embedFont(StandardFonts.Helvetica);
      page.drawText('$1,850.00', { x: 400, y: 400, size: 11, font });
    });
    const lines = await told(forged);
    expect(lines.slice(0, 2)).toEqual([
      ALTERED,
      'Page 1 says Thank you for your trust. $1,850.00; the signed data does not.',
    ]);
  });
});
