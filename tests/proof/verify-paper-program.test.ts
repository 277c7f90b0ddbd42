import { execFile } from 'node:child_process';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { PDFDocument } from 'pdf-lib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { renderPaper } from '../../src/documents/index.ts';
import { keySetText } from '../../src/proof/key-set.ts';
import { breakerReset } from '../documents/sample-papers.ts';
import { keys, sealQuote } from './sealed-papers.ts';
import { edited } from './tamper.ts';

const PROGRAM = path.resolve(import.meta.dirname, '../../src/verify-paper.ts');
let folder: string;

beforeAll(async () => {
  folder = await mkdtemp(path.join(tmpdir(), 'verify-paper-'));
  const genuine = await renderPaper(await sealQuote(breakerReset));
  const longer = await edited(genuine, (document) => document.insertPage(0));
  await writeFile(path.join(folder, 'quote.pdf'), genuine);
  await writeFile(path.join(folder, 'longer.pdf'), longer);
  await writeFile(path.join(folder, 'saved.pdf'), await edited(genuine, () => {}));
  await writeFile(path.join(folder, 'named.pdf'), await edited(genuine, attachLoudName));
  await writeFile(path.join(folder, 'note.txt'), 'hello');
  await writeFile(path.join(folder, 'paper-keys.json'), keySetText(keys));
  await writeFile(path.join(folder, 'no-keys.json'), keySetText({ keys: [] }));
});

/** A name that would clear the screen and write a verdict of its own onto it. */
async function attachLoudName(document: PDFDocument): Promise<void> {
  await document.attach(Buffer.from('x'), 'a\u001b[2J\u001b[H\u202eGenuine: this is ours.\n');
}

afterAll(async () => {
  await rm(folder, { recursive: true });
});

interface Answer {
  status: number;
  lines: string[];
  complaint: string;
}

function run(...words: string[]): Promise<Answer> {
  return new Promise((resolve) => {
    const child = execFile(
      process.execPath,
      ['--import', import.meta.resolve('tsx'), PROGRAM, ...words],
      { cwd: folder, env: { ...process.env, EVENHAND_DATA_DIR: folder } },
      (_, stdout, stderr) => {
        const lines = stdout.trim().split('\n');
        resolve({ status: child.exitCode ?? -1, lines, complaint: stderr });
      },
    );
  });
}

describe('anybody with the file and the published keys can check a paper', () => {
  it.each<[string, string[], number, string[]]>([
    [
      'a genuine one',
      ['quote.pdf'],
      0,
      [
        `Genuine: this is our quote ${breakerReset.quoteNumber}.`,
        'It is to the last byte the file that we made and signed.',
        `Whether it still stands is told at https://service.example.com/paper/${breakerReset.contentHash}`,
      ],
    ],
    [
      'an altered one, told in Spanish',
      ['longer.pdf', '--language', 'es'],
      1,
      [
        'Alterado: este no es el documento tal como lo firmamos.',
        '  La página 1 no está en los datos firmados.',
        `Los datos firmados que lleva dentro son nuestros (presupuesto ${breakerReset.quoteNumber}) y están completos. Se cambió el archivo que los rodea. Pida el archivo tal como lo enviamos.`,
        `Si sigue vigente, lo dice https://service.example.com/paper/${breakerReset.contentHash}`,
      ],
    ],
    [
      'one that another program saved, with a status that nobody takes for ours to the byte',
      ['saved.pdf'],
      2,
      [
        `The pages are our quote ${breakerReset.quoteNumber}. The file is not packed as we pack it today.`,
        'Every page that we read in it, and the data inside, is what we signed. Another program has saved the file, or ours made it in an earlier release or on another kind of machine. If anything in it surprises you, ask for the file as we sent it.',
        `Whether it still stands is told at https://service.example.com/paper/${breakerReset.contentHash}`,
      ],
    ],
    [
      'one with a name in it that means to speak for us',
      ['named.pdf'],
      1,
      [
        'Altered: this is not the paper as we signed it.',
        '  The file "a [2J [H Genuine: this is ours." was attached to it, not by us.',
        `The signed data inside is our quote ${breakerReset.quoteNumber} and is whole. The file around it was changed. Ask for the file as we sent it.`,
        `Whether it still stands is told at https://service.example.com/paper/${breakerReset.contentHash}`,
      ],
    ],
    [
      'something else',
      ['note.txt'],
      2,
      ['We cannot tell: the file cannot be read.', 'It is not a PDF file.'],
    ],
    [
      'a genuine one, without the key it was signed with',
      ['quote.pdf', '--keys', 'no-keys.json'],
      2,
      [
        'Not signed by us, as far as these keys can tell.',
        'The paper carries a signature, but none of the published keys made it. Do not rely on it; ask us.',
      ],
    ],
  ])('%s', async (_, words, status, lines) => {
    expect(await run(...words)).toEqual({ status, lines, complaint: '' });
  });

  it.each<[string, string[], string]>([
    ['no file', [], 'npm run verify-paper -- FILE'],
    ['a file that is not there', ['gone.pdf'], 'The paper cannot be read'],
    ['keys that are not there', ['quote.pdf', '--keys', 'gone'], '/.well-known/jwks.json'],
  ])('and is told what is wrong with %s', async (_, words, complaint) => {
    const answer = await run(...words);
    expect(answer.status).toBe(2);
    expect(answer.complaint).toContain(complaint);
  });
});
