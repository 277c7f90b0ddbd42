import { Readable } from 'node:stream';
import { buffer } from 'node:stream/consumers';
import { createDeflate, deflateSync } from 'node:zlib';
import { PDFName, PDFRawStream } from 'pdf-lib';
import { beforeAll, describe, expect, it } from 'vitest';
import { renderPaper } from '../../src/documents/index.ts';
import { createVerifier, PAPER_BYTES_MAX, verifyBeside } from '../../src/proof/index.ts';
import { breakerReset } from '../documents/sample-papers.ts';
import { keys, sealQuote } from './sealed-papers.ts';
import { edited } from './tamper.ts';

let genuine: Uint8Array;

beforeAll(async () => {
  genuine = await renderPaper(await sealQuote(breakerReset));
});

/** As a page: spaces packed twice over, which the strict reader passes on as it finds them. */
async function packedTwice(megabytes: number): Promise<Uint8Array> {
  const piece = Buffer.alloc(1_000_000, ' ');
  const pieces = Readable.from(Array.from({ length: megabytes }, () => piece));
  const packed = deflateSync(await buffer(pieces.pipe(createDeflate())));
  return edited(genuine, ({ context }, page) => {
    const filters = { Filter: ['FlateDecode', 'FlateDecode'], Length: packed.length };
    const stream = PDFRawStream.of(context.obj(filters), packed);
    page.node.set(PDFName.of('Contents'), context.register(stream));
  });
}

describe("a stranger's file is read on a thread of its own", () => {
  it('with the same verdict as anywhere', async () => {
    expect(await verifyBeside(genuine, keys)).toMatchObject({
      verdict: 'genuine',
      paper: { kind: 'quote', number: breakerReset.quoteNumber },
    });
    expect(await verifyBeside(Buffer.from('hello'), keys)).toEqual({
      verdict: 'unreadable',
      cause: 'not_a_pdf',
    });
  });

  it('which is ended when its time is over', async () => {
    const limits = { timeMs: 0, growthBytes: Number.POSITIVE_INFINITY };
    expect(await verifyBeside(genuine, keys, limits)).toEqual({
      verdict: 'unreadable',
      cause: 'too_much_work',
    });
  });

  it('which is ended when it unpacks without end, while the service goes on', async () => {
    const limits = { timeMs: 25_000, growthBytes: 300 * 1024 * 1024 };
    const verdict = await verifyBeside(await packedTwice(800), keys, limits);
    expect(verdict).toEqual({ verdict: 'unreadable', cause: 'too_much_work' });
    expect((await verifyBeside(genuine, keys)).verdict).toBe('genuine');
  });

  it('and not read at all where it is larger than any paper', async () => {
    const large = new Uint8Array(PAPER_BYTES_MAX + 1);
    expect(await verifyBeside(large, keys)).toEqual({ verdict: 'unreadable', cause: 'too_large' });
  });

  it('and leaves the bytes it was given as they were', async () => {
    const given = genuine.slice();
    await verifyBeside(given, keys);
    expect(given).toEqual(genuine);
  });
});

describe('files are verified one after the other', () => {
  it('and whoever finds too many waiting is told to come back', async () => {
    const { verify } = createVerifier({ waitingMax: 1 });
    const files = [genuine, Buffer.from('hello'), genuine];
    const answers = await Promise.allSettled(files.map((bytes) => verify(bytes, keys)));
    expect(answers).toMatchObject([
      { status: 'fulfilled', value: { verdict: 'genuine' } },
      { status: 'fulfilled', value: { verdict: 'unreadable' } },
      { status: 'rejected', reason: { slug: 'unavailable' } },
    ]);
    expect((await verify(genuine, keys)).verdict).toBe('genuine');
  });

  it('and whoever is gone is not read for', async () => {
    const { verify } = createVerifier({ waitingMax: 4 });
    const gone = new AbortController();
    const read = verify(genuine, keys, gone.signal);
    const waiting = verify(genuine, keys, gone.signal);
    const other = verify(genuine, keys);
    gone.abort();
    await expect(read).rejects.toMatchObject({ slug: 'unavailable' });
    await expect(waiting).rejects.toMatchObject({ slug: 'unavailable' });
    expect((await other).verdict).toBe('genuine');
  });

  it('and closing ends them all at once, also those that come later', async () => {
    const { verify, close } = createVerifier({ waitingMax: 4 });
    const asked = [verify(genuine, keys), verify(genuine, keys)];
    const answers = Promise.allSettled(asked);
    await close();
    const later = Promise.allSettled([verify(genuine, keys)]);
    for (const { status, ...rest } of [...(await answers), ...(await later)]) {
      expect({ status, ...rest }).toMatchObject({
        status: 'rejected',
        reason: { slug: 'unavailable' },
      });
    }
  });
});
