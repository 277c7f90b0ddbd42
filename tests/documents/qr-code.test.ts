import { createCanvas, type ImageData } from '@napi-rs/canvas';
import jsqr from 'jsqr';
import { getDocument, VerbosityLevel } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { describe, expect, it } from 'vitest';
import { renderPaper } from '../../src/documents/index.ts';
import { qrCode } from '../../src/documents/qr-code.ts';
import { checkTaggedPdf } from './check-tagged-pdf.ts';
import { figuresIn, isArray, isDict, listOf, readPageTexts, readPdf } from './read-pdf.ts';
import { sampleKinds } from './sample-kinds.ts';

const pageUrl = `https://service.evenhand.example/paper/${'0123456789abcdef'.repeat(4)}`;

/** The last page as a viewer shows it, at 150 dots to the inch: red, green, blue, opacity. */
async function lastPage(bytes: Uint8Array): Promise<ImageData> {
  const task = getDocument({ data: new Uint8Array(bytes), verbosity: VerbosityLevel.ERRORS });
  try {
    const document = await task.promise;
    const page = await document.getPage(document.numPages);
    const viewport = page.getViewport({ scale: 150 / 72 });
    const canvas = createCanvas(Math.ceil(viewport.width), Math.ceil(viewport.height));
    const canvasContext = canvas.getContext('2d');
    await page.render({ canvas: null, canvasContext, viewport }).promise;
    return canvasContext.getImageData(0, 0, canvas.width, canvas.height);
  } finally {
    await task.destroy();
  }
}

describe('the code on a paper', () => {
  it.each(Object.entries(sampleKinds))(
    'of %s is read off the printed page as the address of its page',
    async (_, paper) => {
      const bytes = await renderPaper({ paper, pageUrl, attachments: [] });
      const { data, width, height } = await lastPage(bytes);
      expect(jsqr.default(data, width, height)?.data).toBe(pageUrl);
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
