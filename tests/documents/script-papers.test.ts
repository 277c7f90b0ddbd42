import { execFile } from 'node:child_process';
import { promisify } from 'node:util';
import { describe, expect, it } from 'vitest';
import { renderPaper } from '../../src/documents/index.ts';
import { verifyPaper } from '../../src/proof/verify-paper.ts';
import { keys, sealQuote } from '../proof/sealed-papers.ts';
import { edited } from '../proof/tamper.ts';
import { checkTaggedPdf } from './check-tagged-pdf.ts';
import { printQuote } from './print-quote.ts';
import { hanNames, promisedScripts } from './promised-scripts.ts';
import { actualTexts, readGlyphTexts, readPageTexts, readPdf } from './read-pdf.ts';
import { pluggedDrain } from './sample-papers.ts';

const names = [...promisedScripts.flatMap(({ names }) => names), ...hanNames];

/** Readers guess where spaces are from gaps between letters; joiners they leave out. */
function bare(text: string): string {
  return text.replace(/[\s\u200c\u200d]+/g, '').normalize('NFC');
}

function bodyOf(pages: readonly { body: string }[]): string {
  return pages.map(({ body }) => body).join(' ');
}

describe.each(names)('a paper for %s', (name) => {
  const sentence = `${name}: $12.50 due, 3 × 4.`;
  const paper = { ...pluggedDrain, customer: { name }, cautions: [sentence] };

  it('breaks no rule of PDF/UA-1, lacks no glyph, and says the name as it was written', async () => {
    const bytes = await printQuote(paper);
    expect(await checkTaggedPdf(bytes)).toEqual([]);
    const body = bodyOf(await readPageTexts(bytes));
    expect(bare(body)).toContain(bare(`Prepared for ${name} Service`));
    expect(bare(body)).toContain(bare(sentence));
    // Read by pdfjs from the glyphs alone, in the order it finds for itself.
    const copied = bare(bodyOf(await readGlyphTexts(bytes)));
    expect(copied).toContain(bare(`Prepared for ${name} Service`));
    expect(copied).toContain(bare(`: $12.50 due, 3 × 4.`));
  });
});

describe('a sealed paper in many scripts', () => {
  const paper = { ...pluggedDrain, customer: { name: names.slice(0, 5).join(', ') } };

  it('is genuine as it was made, and has the same pages when it was saved again', async () => {
    const file = await renderPaper(await sealQuote(paper));
    expect((await verifyPaper(file, keys)).verdict).toBe('genuine');
    expect((await verifyPaper(await edited(file, () => {}), keys)).verdict).toBe('same_pages');
  });

  it('is told as altered by the name that was put in the place of another', async () => {
    const sheet = await sealQuote(paper);
    const customer = { name: 'שרה כהן' };
    const file = await renderPaper({
      ...sheet,
      paper: { kind: 'quote', paper: { ...paper, customer } },
    });
    const verdict = await verifyPaper(file, keys);
    expect(verdict).toMatchObject({ verdict: 'altered', signature: 'good' });
    expect(JSON.stringify(verdict)).toContain('שרה');
  });
});

describe('a name that is read from right to left', () => {
  it('is said by its element in the order of reading, together with what stands around it', async () => {
    const cautions = ['Paid by דוד לוי (7), $12.50.'];
    const bytes = await printQuote({ ...pluggedDrain, customer: { name: 'محمد' }, cautions });
    const said = [...actualTexts(await readPdf(bytes)).values()];
    expect(said).toEqual(['محمد', 'Paid by דוד לוי (7), $12.50.']);
  });

  it('needs no such word while all is read from left to right', async () => {
    const bytes = await printQuote({ ...pluggedDrain, customer: { name: '李 小龍' } });
    expect(actualTexts(await readPdf(bytes)).size).toBe(0);
  });

  it('stands in the title of the file without marks that nobody sees', async () => {
    const company = { ...pluggedDrain.company, name: 'محمد الحداد' };
    const { infoTitle } = await readPdf(await printQuote({ ...pluggedDrain, company }));
    expect(infoTitle).toContain('محمد الحداد');
    expect(infoTitle).not.toMatch(/\p{Cf}/u);
  });
});

describe('the bytes of papers in many scripts', () => {
  it('are the same in whatever order they are drawn by a new process', async () => {
    const script = (order: string) => `
      const { createHash } = await import('node:crypto');
      const { printQuote } = await import('./tests/documents/print-quote.ts');
      const { pluggedDrain } = await import('./tests/documents/sample-papers.ts');
      const papers = {
        plain: pluggedDrain,
        arabic: { ...pluggedDrain, customer: { name: 'محمد شيخ 7' }, summary: 'لا، لالا' },
        mixed: { ...pluggedDrain, customer: { name: 'दوד 李 小龍' }, summary: '骨 と, שיר, शर्मा' },
        han: { ...pluggedDrain, customer: { name: '李 小龍' }, summary: '骨' },
      };
      const told = new Set();
      for (const name of ${JSON.stringify(order.split(' '))}) {
        told.add(name + ' ' + createHash('sha256').update(await printQuote(papers[name])).digest('hex'));
      }
      process.stdout.write([...told].sort().join('\\n'));`;
    const told = await Promise.all(
      ['plain arabic mixed han plain arabic', 'mixed han arabic plain mixed han'].map(
        async (order) => {
          const { stdout } = await promisify(execFile)(process.execPath, [
            ...['--import', 'tsx', '--input-type=module', '--eval'],
            script(order),
          ]);
          return stdout;
        },
      ),
    );
    expect(told[0]?.split('\n')).toHaveLength(4);
    expect(new Set(told).size).toBe(1);
  }, 60_000);
});
