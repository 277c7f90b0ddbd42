import PDFDocument from 'pdfkit';
import { describe, expect, it } from 'vitest';
import { checkTaggedPdf } from './check-tagged-pdf.ts';
import { printQuote } from './print-quote.ts';
import { capacitorAndContactor } from './sample-papers.ts';

/** Writes an uncompressed stand-in of equal length, so that the file's own table stays right. */
function altered(bytes: Uint8Array, from: string, to: string): Uint8Array {
  expect(to.length).toBe(from.length);
  const text = Buffer.from(bytes).toString('latin1');
  expect(text).toContain(from);
  return Buffer.from(text.replace(from, to), 'latin1');
}

function plainPdf(draw: (pdf: PDFKit.PDFDocument) => void): Promise<Uint8Array> {
  return new Promise((resolve) => {
    const pdf = new PDFDocument({ info: { Title: '' } });
    const chunks: Buffer[] = [];
    pdf.on('data', (chunk) => chunks.push(chunk));
    pdf.on('end', () => resolve(Buffer.concat(chunks)));
    draw(pdf);
    pdf.end();
  });
}

describe('the checker of tagged papers', () => {
  it('finds every fault of a file that was never tagged', async () => {
    const bytes = await plainPdf((pdf) => pdf.text('Hello').rect(0, 0, 9, 9).fill());
    expect(await checkTaggedPdf(bytes)).toEqual(
      expect.arrayContaining([
        'not marked as tagged',
        'no language',
        'the title is not what a viewer shows',
        'not declared PDF/UA-1',
        'Helvetica is not embedded',
        'page 1 shows something that is neither content nor artifact',
        'no structure tree',
      ]),
    );
  });

  it.each([
    ['a header cell without scope', '/Scope', '/Scopo'],
    ['a figure without its text', '/Alt (', '/Alx ('],
    ['a figure without its place', '/BBox', '/BBux'],
    ['a list that does not say how it is numbered', '/ListNumbering', '/ListNumberinx'],
    ['a table whose rows are not equally wide', '/ColSpan 3', '/ColSpan 2'],
    ['not marked as tagged', '/Marked true', '/Marker true'],
    ['not declared PDF/UA-1', '<pdfuaid:part>1', '<pdfuaid:part>9'],
    ['H3 follows H1', '/S /H2', '/S /H3'],
    ['page 1 shows a character that its font does not have', '/CIDToGIDMap', '/CIDToGIDMax'],
    ['LBody in L', '/S /LI\n', '/S /L \n'],
  ])('finds %s', async (problem, from, to) => {
    const bytes = await printQuote(capacitorAndContactor);
    expect(await checkTaggedPdf(altered(bytes, from, to))).toContain(problem);
  });

  it('finds content whose order differs from the order of the tree', async () => {
    const bytes = await printQuote(capacitorAndContactor);
    const problems = await checkTaggedPdf(altered(bytes, '/K [0]', '/K [1]'));
    expect(problems).toContain('page 1 is not read in the order it is written');
  });
});
