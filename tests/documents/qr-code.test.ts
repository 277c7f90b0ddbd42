import { execFile } from 'node:child_process';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { promisify } from 'node:util';
import jsqr from 'jsqr';
import { describe, expect, it } from 'vitest';
import { renderPaper } from '../../src/documents/index.ts';
import { qrCode } from '../../src/documents/qr-code.ts';
import { checkTaggedPdf } from './check-tagged-pdf.ts';
import { isArray, isDict, listOf, type PdfDict, readPageTexts, readPdf } from './read-pdf.ts';
import { sampleKinds } from './sample-kinds.ts';

const pageUrl = `https://service.evenhand.example/paper/${'0123456789abcdef'.repeat(4)}`;

interface Picture {
  widthPx: number;
  heightPx: number;
  /** Red, green, blue and full opacity for each point, as a decoder takes them. */
  points: Uint8ClampedArray;
}

/** The last page as a printer would show it, at 150 dots to the inch; 8 bits each of RGB. */
async function lastPage(bytes: Uint8Array): Promise<Picture> {
  const folder = await mkdtemp(path.join(tmpdir(), 'code-'));
  try {
    const file = path.join(folder, 'paper.pdf');
    await writeFile(file, bytes);
    const { length } = await readPageTexts(bytes);
    const last = ['-r', '150', '-f', String(length), '-l', String(length)];
    const { stdout } = await promisify(execFile)('pdftoppm', [...last, file], {
      encoding: 'buffer',
      maxBuffer: 64 * 2 ** 20,
    });
    return pictureOf(stdout);
  } finally {
    await rm(folder, { recursive: true });
  }
}

/** Reads the portable pixmap format: 'P6', width, height and 255, then three bytes for each point. */
function pictureOf(pixmap: Buffer): Picture {
  const head = /^P6\s+(\d+)\s+(\d+)\s+255\s/.exec(pixmap.subarray(0, 40).toString('latin1'));
  if (head === null) throw new Error('not a portable pixmap');
  const [widthPx, heightPx] = [Number(head[1]), Number(head[2])];
  const points = new Uint8ClampedArray(widthPx * heightPx * 4).fill(255);
  const colors = pixmap.subarray(head[0].length);
  for (let at = 0; at < widthPx * heightPx; at += 1) {
    points.set(colors.subarray(3 * at, 3 * at + 3), 4 * at);
  }
  return { widthPx, heightPx, points };
}

function figuresIn(element: PdfDict): PdfDict[] {
  const kids = listOf(element.get('K')).filter(isDict).flatMap(figuresIn);
  return element.get('S') === 'Figure' ? [element, ...kids] : kids;
}

describe('the code on a paper', () => {
  it.each(Object.entries(sampleKinds))(
    'of %s is read off the printed page as the address of its page',
    async (_, paper) => {
      const { points, widthPx, heightPx } = await lastPage(
        await renderPaper({ paper, pageUrl, attachments: [] }),
      );
      expect(jsqr.default(points, widthPx, heightPx)?.data).toBe(pageUrl);
    },
    20_000,
  );

  it('has its address in words beside it, and says what it opens to those who do not see it', async () => {
    const paper = sampleKinds['invoice'];
    if (paper === undefined) throw new Error('no invoice among the samples');
    const bytes = await renderPaper({ paper, pageUrl, attachments: [] });
    expect(await checkTaggedPdf(bytes)).toEqual([]);
    const texts = await readPageTexts(bytes);
    expect(texts.at(-1)?.body).toContain(pageUrl);
    const root = (await readPdf(bytes)).catalog.get('StructTreeRoot');
    const figures = isDict(root) ? listOf(root.get('K')).filter(isDict).flatMap(figuresIn) : [];
    expect(figures.map((figure) => figure.get('Alt'))).toEqual([`QR code that opens ${pageUrl}`]);
    const [box] = figures.map((figure) => {
      const attributes = listOf(figure.get('A')).find(isDict);
      return attributes?.get('BBox');
    });
    expect(box !== undefined && isArray(box) && box.items.length).toBe(4);
  });

  it('has four modules of white on each side of it, as ISO/IEC 18004 asks for', () => {
    const { inkAt, quietPt } = qrCode(pageUrl, 72);
    const ink = inkAt(60, 100);
    const modulePt = Math.min(...ink.blocks.map(({ heightPt }) => heightPt));
    expect(quietPt).toBeCloseTo(4 * modulePt, 9);
    // To the left lies the page's margin, to the right the gap before the text.
    expect(quietPt).toBeLessThan(14);
    for (const { xPt, yPt, widthPt, heightPt } of ink.blocks) {
      expect(xPt).toBeGreaterThanOrEqual(60);
      expect(yPt).toBeGreaterThanOrEqual(100);
      expect(xPt + widthPt).toBeLessThanOrEqual(132 + 1e-9);
      expect(yPt + heightPt).toBeLessThanOrEqual(172 + 1e-9);
    }
  });

  it('is dark enough on white for any reader: above 10 to 1 (WCAG 2.2, relative luminance)', () => {
    const ink = qrCode(pageUrl, 72).inkAt(0, 0);
    const [red = 0, green = 0, blue = 0] = [1, 3, 5].map((at) => {
      const share = Number.parseInt(ink.fill.slice(at, at + 2), 16) / 255;
      return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
    });
    const luminance = 0.2126 * red + 0.7152 * green + 0.0722 * blue;
    expect(1.05 / (luminance + 0.05)).toBeGreaterThan(10);
  });

  it('is left out where there is no page to open', async () => {
    const paper = sampleKinds['creditMemo'];
    if (paper === undefined) throw new Error('no credit memo among the samples');
    const bytes = await renderPaper({ paper, attachments: [] });
    const body = (await readPageTexts(bytes)).map((page) => page.body).join(' ');
    expect(body).toContain(paper.paper.contentHash);
    expect(body).not.toContain('http');
    const root = (await readPdf(bytes)).catalog.get('StructTreeRoot');
    expect(isDict(root) && listOf(root.get('K')).filter(isDict).flatMap(figuresIn)).toEqual([]);
  });
});
