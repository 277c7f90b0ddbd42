import { deflateSync, inflateSync } from 'node:zlib';
import { beforeAll, describe, expect, it } from 'vitest';
import { renderPaper } from '../../src/documents/index.ts';
import { attachmentsOf } from '../../src/proof/pdf/attachments-of.ts';
import { pagesDigest } from '../../src/proof/pdf/pages-digest.ts';
import { readStrictly } from '../../src/proof/pdf/read-strictly.ts';
import { verifyPaper } from '../../src/proof/verify-paper.ts';
import { lumpSum } from '../documents/sample-papers.ts';
import { type PdfPieces, PdfWriter, reachable, referenced, takeApart } from './pdf-pieces.ts';
import { keys, sealQuote } from './sealed-papers.ts';

let ours: PdfPieces;
let digest: string;

beforeAll(async () => {
  const genuine = await renderPaper(await sealQuote(lumpSum));
  ours = takeApart(genuine);
  digest = pagesDigest(readStrictly(genuine));
});

/** A paper whose objects can be rewritten one by one, and new ones added. */
type Forger = (objects: Map<number, string>) => void;

function forged(change: Forger): Uint8Array {
  const objects = new Map(ours.objects);
  change(objects);
  const isChanged = [...objects].some(([number, body]) => ours.objects.get(number) !== body);
  if (!isChanged) throw new Error('nothing was changed');
  return new PdfWriter().put(reachable({ ...ours, objects })).end(ours);
}

/** The number of the first object whose letters the pattern finds. */
function numberOf(objects: ReadonlyMap<number, string>, pattern: RegExp): number {
  const found = [...objects].find(([, body]) => pattern.test(body));
  if (found === undefined) throw new Error(`no object has ${pattern}`);
  return found[0];
}

function rewrite(pattern: RegExp, change: (body: string) => string): Forger {
  return (objects) => {
    const number = numberOf(objects, pattern);
    objects.set(number, change(objects.get(number) ?? ''));
  };
}

const PAGE = /\/Type \/Page\n/;
const CATALOG = /\/Type \/Catalog/;
const FONT = /\/Subtype \/Type0/;
const DESCENDANT = /\/Subtype \/CIDFontType2/;

/** Adds entries to the object, and the further objects that they lead to. */
function add(pattern: RegExp, entries: string, more: [number, string][] = []): Forger {
  return (objects) => {
    rewrite(pattern, (body) => body.replace('<<', `<<\n${entries}\n`))(objects);
    for (const [number, body] of more) objects.set(number, body);
  };
}

/** Unpacks the stream that an entry of the first such object leads to, changes it, and packs it. */
function restream(holder: RegExp, key: string, change: (text: string) => string): Forger {
  return (objects) => {
    const number = referenced(objects.get(numberOf(objects, holder)) ?? '', key);
    const [head = '', content = ''] = (objects.get(number) ?? '').split('\nstream\n');
    const raw = Buffer.from(content.slice(0, -'\nendstream'.length), 'latin1');
    const text = inflateSync(raw).toString('latin1');
    const changed = change(text);
    if (changed === text) throw new Error('the stream stays as it is');
    const packed = deflateSync(Buffer.from(changed, 'latin1')).toString('latin1');
    const length = head.replace(/\/Length \d+/, `/Length ${packed.length}`);
    objects.set(number, `${length}\nstream\n${packed}\nendstream`);
  };
}

function stream(entries: string, content: string): string {
  return `<< ${entries} /Length ${content.length} >>\nstream\n${content}\nendstream`;
}

const INK = '1 1 1 rg 0 0 612 792 re f';
/** Draws through the page's own operators, by a resource that the page has under the name. */
function drawn(kind: string, operators: string, object: string): Forger {
  return (objects) => {
    add(/\/ProcSet|\/Font <</, `/${kind} << /Forged 900 0 R >>`, [[900, object]])(objects);
    restream(PAGE, 'Contents', (text) => `${text}\n${operators}`)(objects);
  };
}

const form = stream('/Type /XObject /Subtype /Form /BBox [0 0 612 792]', INK);
const jump = '<< /S /URI /URI (https://elsewhere.example.com/) >>';

const forgeries: Record<string, Forger> = {
  'an operator more': restream(PAGE, 'Contents', (text) => `${text}\n${INK}`),
  'a letter moved': restream(PAGE, 'Contents', (text) => text.replace(/(\d) Tm/, '$11 Tm')),
  'a picture in the operators': restream(
    PAGE,
    'Contents',
    (text) => `${text}\nq 612 0 0 792 0 0 cm BI /W 1 /H 1 /CS /G /BPC 8 ID \u00ff EI Q`,
  ),
  'a second stream of operators': (objects) => {
    rewrite(PAGE, (body) => body.replace(/\/Contents (\d+ 0 R)/, '/Contents [$1 900 0 R]'))(
      objects,
    );
    objects.set(900, stream('', INK));
  },
  'a form': drawn('XObject', '/Forged Do', form),
  'a picture': drawn(
    'XObject',
    '/Forged Do',
    stream(
      '/Type /XObject /Subtype /Image /Width 1 /Height 1 /ColorSpace /DeviceGray /BitsPerComponent 8',
      'x',
    ),
  ),
  'a pattern': drawn(
    'Pattern',
    '/Pattern cs /Forged scn 0 0 612 792 re f',
    stream(
      '/Type /Pattern /PatternType 1 /PaintType 1 /TilingType 1 /BBox [0 0 9 9] /XStep 9 /YStep 9 /Resources << >>',
      '0 0 9 9 re f',
    ),
  ),
  'a shading': drawn(
    'Shading',
    '/Forged sh',
    '<< /ShadingType 2 /ColorSpace /DeviceGray /Coords [0 0 9 9] /Function << /FunctionType 2 /Domain [0 1] /N 1 >> >>',
  ),
  'a blend': drawn('ExtGState', '/Forged gs', '<< /Type /ExtGState /BM /Difference /ca 0 >>'),
  'a mask': (objects) => {
    const mask = '<< /Type /ExtGState /SMask << /Type /Mask /S /Luminosity /G 901 0 R >> >>';
    drawn('ExtGState', '/Forged gs', mask)(objects);
    objects.set(901, form);
  },
  'a typeface whose letters are drawings': (objects) => {
    const face =
      '<< /Type /Font /Subtype /Type3 /FontBBox [0 0 9 9] /FontMatrix [1 0 0 1 0 0] /CharProcs << /a 901 0 R >> /Encoding << /Type /Encoding /Differences [97 /a] >> /FirstChar 97 /LastChar 97 /Widths [9] >>';
    add(PAGE, '/Forged 900 0 R', [[900, face]])(objects);
    objects.set(901, stream('', '9 0 0 0 9 9 d1 0 0 9 9 re f'));
  },
  'the other typeface under the same name': (objects) => {
    const [one, two] = [...objects.values()].flatMap((body) =>
      /\/FontFile2/.test(body) ? [referenced(body, 'FontFile2')] : [],
    );
    objects.set(one ?? 0, objects.get(two ?? 0) ?? '');
  },
  'two outlines of a typeface exchanged': restream(/\/FontFile2/, 'FontFile2', exchangedOutlines),
  'letters that are copied as others': restream(FONT, 'ToUnicode', (text) =>
    text.replace('<0033>', '<0039>').replace('<0024>', '<0020>'),
  ),
  'no letters to copy': rewrite(FONT, (body) => body.replace(/\/ToUnicode \d+ 0 R/, '')),
  'another encoding': rewrite(FONT, (body) => body.replace('/Identity-H', '/Identity-V')),
  'other widths': rewrite(DESCENDANT, (body) => body.replace(/ 497 /, ' 997 ')),
  'another width of all': add(DESCENDANT, '/DW 50'),
  'letters drawn by other outlines': (objects) => {
    const number = numberOf(objects, DESCENDANT);
    const body = (objects.get(number) ?? '').replace(
      /\/CIDToGIDMap (?:\/Identity|\d+ 0 R)/,
      '/CIDToGIDMap 900 0 R',
    );
    objects.set(number, body);
    objects.set(900, stream('', '\0\u0021'.repeat(3_000)));
  },
  'another size of the page': rewrite(PAGE, (body) => body.replace('792', '791')),
  'a turned page': add(PAGE, '/Rotate 90'),
  'a page in another unit': rewrite(PAGE, (body) => body.replace(/\/UserUnit 1/, '/UserUnit 2')),
  'a cropped page': add(PAGE, '/CropBox [0 300 612 792]'),
  'a trimmed page': add(PAGE, '/TrimBox [0 300 612 792]'),
  'a page that turns all pages': add(/\/Type \/Pages/, '/Rotate 180'),
  'a page twice': rewrite(/\/Type \/Pages/, (body) =>
    body
      .replace(/\[(\d+ 0 R)/, '[$1 $1')
      .replace(/\/Count (\d)/, (_, count) => `/Count ${Number(count) + 1}`),
  ),
  'a page less by its count': rewrite(/\/Type \/Pages/, (body) =>
    body.replace(/\/Count \d+/, '/Count 1'),
  ),
  'a thumbnail': add(PAGE, '/Thumb 900 0 R', [[900, form]]),
  'data of another program': add(PAGE, '/PieceInfo << /Forged << /Private 900 0 R >> >>', [
    [900, form],
  ]),
  'layers that hide': add(
    CATALOG,
    '/OCProperties << /OCGs [900 0 R] /D << /OFF [900 0 R] /Order [900 0 R] >> >>',
    [[900, '<< /Type /OCG /Name (Price) >>']],
  ),
  'a page on a layer': add(/\/ProcSet|\/Font <</, '/Properties << /Forged 900 0 R >>', [
    [900, '<< /Type /OCG /Name (Price) >>'],
  ]),
  'a note': add(
    PAGE,
    '/Annots [<< /Type /Annot /Subtype /FreeText /Rect [9 9 99 99] /Contents ($3,821.00) /DA (/F1 9 Tf) >>]',
  ),
  'a stamp with an appearance': add(
    PAGE,
    '/Annots [<< /Type /Annot /Subtype /Stamp /Rect [9 9 99 99] /AP << /N 900 0 R >> >>]',
    [[900, form]],
  ),
  'a form to fill in': add(CATALOG, '/AcroForm << /Fields [900 0 R] /NeedAppearances true >>', [
    [900, '<< /FT /Tx /T (total) /V ($3,821.00) /Subtype /Widget /Rect [9 9 99 99] >>'],
  ]),
  'a form in another language': add(CATALOG, '/AcroForm << /XFA 900 0 R >>', [
    [900, stream('', '<xdp/>')],
  ]),
  'a program': add(CATALOG, '/OpenAction << /S /JavaScript /JS (app.alert\\(1\\)) >>'),
  'a jump on opening': add(CATALOG, `/OpenAction ${jump}`),
  'a jump on turning to a page': add(PAGE, `/AA << /O ${jump} >>`),
  'a jump on printing': add(CATALOG, `/AA << /WP ${jump} >>`),
  'a view without the title': rewrite(/\/DisplayDocTitle true/, (body) =>
    body.replace('true', 'false'),
  ),
  'a view of the whole screen': add(CATALOG, '/PageMode /FullScreen'),
  'pages side by side': add(CATALOG, '/PageLayout /TwoColumnLeft'),
  'a list of contents': add(CATALOG, '/Outlines 900 0 R', [
    [900, '<< /First 901 0 R /Last 901 0 R /Count 1 >>'],
    [901, '<< /Title (Total $3,821.00) /Parent 900 0 R >>'],
  ]),
  'other numbers of pages': add(CATALOG, '/PageLabels << /Nums [0 << /P (Paid ) >>] >>'),
  'named places': (objects) => {
    rewrite(/\/Dests <</, (body) => body.replace(/\/Names \[\s*\]/, '/Names [(a) [900 0 R /Fit]]'))(
      objects,
    );
    objects.set(900, '<< >>');
  },
  'named scripts': rewrite(/\/Dests <</, (body) =>
    body.replace('/Dests', '/JavaScript << /Names [(a) << /S /JavaScript /JS (1) >>] >>\n/Dests'),
  ),
  'named pages': rewrite(/\/Dests <</, (body) =>
    body.replace('/Dests', '/Pages << /Names [(a) 900 0 R] >>\n/Dests'),
  ),
  'threads of articles': add(CATALOG, '/Threads [<< /I << /Title (Paid) >> >>]'),
  'a base for its links': add(CATALOG, '/URI << /Base (https://elsewhere.example.com/) >>'),
  'a later version': add(CATALOG, '/Version /2.0'),
  'its own extensions': add(
    CATALOG,
    '/Extensions << /Forged << /BaseVersion /1.7 /ExtensionLevel 1 >> >>',
  ),
  permissions: add(CATALOG, '/Perms << /DocMDP 900 0 R >>', [
    [900, '<< /Type /Sig /Filter /Adobe.PPKLite >>'],
  ]),
  'what it is meant to be printed as': add(
    CATALOG,
    '/OutputIntents [<< /S /GTS_PDFX /OutputConditionIdentifier (x) >>]',
  ),
  'another description for other programs': rewrite(/\/Type \/Metadata/, (body) =>
    body.replace(/uuid|xmp/, (found) => found.toUpperCase()),
  ),
  'another word read aloud': rewrite(/\/Alt \(/, (body) => body.replace('/Alt (', '/Alt (*')),
  'other words in place of those drawn': add(/\/S \/P\n/, '/ActualText ($3,821.00)'),
  'another language': rewrite(CATALOG, (body) => body.replace('en-US', 'es-US')),
  'another meaning of an element': rewrite(/\/S \/H1/, (body) => body.replace('/H1', '/Artifact')),
  'other roles': add(/\/StructTreeRoot/, '/RoleMap << /P /Artifact >>'),
  'another title': (objects) => {
    const number = referenced(objects.get(ours.info) ?? '', 'Title');
    objects.set(number, '(Paid in full)');
  },
  'another subject': (objects) => {
    const number = referenced(objects.get(ours.info) ?? '', 'Subject');
    objects.set(number, '(Paid in full)');
  },
};

/** The outlines that the third and the fourth row of a typeface's table lead to, each in the other's place. */
function exchangedOutlines(text: string): string {
  const face = Buffer.from(text, 'latin1');
  const count = face.readUInt16BE(4);
  for (let at = 12; at < 12 + 16 * count; at += 16) {
    if (face.toString('latin1', at, at + 4) !== 'loca') continue;
    const table = face.readUInt32BE(at + 8);
    // Whatever the width of a row: the places of a few letters turned around.
    const rows = face.subarray(table + 8, table + 40);
    Buffer.from(rows).reverse().copy(rows);
  }
  return face.toString('latin1');
}

describe('whatever a viewer shows, starts or reads aloud is signed', () => {
  it('and written anew without a change, the pages are ours', async () => {
    const file = new PdfWriter().put(ours.objects).end(ours);
    expect((await verifyPaper(file, keys)).verdict).toBe('same_pages');
  });

  it.each(Object.entries(forgeries))('so that none is called ours with %s', (_, change) => {
    const file = forged(change);
    let seen: string;
    try {
      const pdf = readStrictly(file);
      attachmentsOf(pdf);
      seen = pagesDigest(pdf);
    } catch (error) {
      seen = error instanceof Error ? error.name : '';
    }
    expect(seen).not.toBe(digest);
    expect(seen).toMatch(/^[0-9a-f]{64}$|^StrictlyUnreadable$/);
  });
});
