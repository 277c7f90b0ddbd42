import { execFile } from 'node:child_process';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { promisify } from 'node:util';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { renderPaper } from '../../src/documents/index.ts';
import { caseSeed as seed } from '../harness/case-seed.ts';
import { randomPaper } from './random-paper.ts';

const pageUrl = `https://evenhand.example/paper/${'0123456789abcdef'.repeat(4)}`;
const attachments = [
  {
    name: 'data.json',
    mediaType: 'application/json',
    description: 'What the paper says',
    relationship: 'Data' as const,
    bytes: Buffer.from('{}'),
  },
];

describe(`five hundred random papers of all kinds, seed ${seed}`, () => {
  let folder: string;

  beforeAll(async () => {
    folder = await mkdtemp(path.join(tmpdir(), 'papers-'));
    for (const [index, paper] of fc.sample(randomPaper(), { numRuns: 500, seed }).entries()) {
      const bytes = await renderPaper({ paper, pageUrl, attachments });
      await writeFile(path.join(folder, `${index}.pdf`), bytes);
    }
  }, 240_000);

  afterAll(async () => {
    await rm(folder, { recursive: true });
  });

  it('are sound files to qpdf, which reads the format on its own', async () => {
    // One call for many files: starting a program takes longer than looking at a paper.
    const script =
      'for file in "$0"/*.pdf; do qpdf --check "$file" >/dev/null || echo "$file"; done';
    const { stdout, stderr } = await promisify(execFile)('sh', ['-c', script, folder]);
    expect({ refused: stdout, warnings: stderr }).toEqual({ refused: '', warnings: '' });
  }, 120_000);
});
