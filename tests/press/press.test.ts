import { afterEach, describe, expect, it } from 'vitest';
import {
  PaperRefused,
  type PaperSheet,
  type QuotePaper,
  type Report,
  renderReport,
} from '../../src/documents/index.ts';
import { createPress, type Press } from '../../src/press/index.ts';
import { type DrawnPages, drawToSeal } from '../../src/proof/index.ts';
import { capacitorAndContactor, pluggedDrain } from '../documents/sample-papers.ts';

let press: Press;
afterEach(() => press.close());

describe('the press draws beside the thread that answers requests', () => {
  it('the very bytes that are drawn here, with the digest of their pages, several papers at a time', async () => {
    press = createPress({ workers: 2, waitingMax: 10 });
    const sheets = [capacitorAndContactor, pluggedDrain, capacitorAndContactor].map(sheet);
    const drawn = await Promise.all(sheets.map((each) => press.draw(each)));
    for (const [at, each] of sheets.entries()) expect(drawn[at]).toEqual(await here(each));
  });

  it('with the files that belong into the file', async () => {
    press = createPress({ workers: 1, waitingMax: 1 });
    const attached: PaperSheet = {
      ...sheet(pluggedDrain),
      pageUrl: 'https://jobs.example.com/paper/00',
      attachments: [
        {
          ...{ name: 'data.json', mediaType: 'application/json', description: 'The data' },
          ...{ bytes: new TextEncoder().encode('{}'), relationship: 'Data' },
        },
      ],
    };
    expect(await press.draw(attached)).toEqual(await here(attached));
  });

  it('reports of the owner, the very bytes that are printed here, between papers', async () => {
    press = createPress({ workers: 1, waitingMax: 10 });
    const [paper, printed, other] = await Promise.all([
      press.draw(sheet(pluggedDrain)),
      press.drawReport(report),
      press.draw(sheet(pluggedDrain)),
    ]);
    expect(printed).toEqual(new Uint8Array(await renderReport(report)));
    expect(other).toEqual(paper);
  });

  it('a report that waits is refused when it is closed', async () => {
    press = createPress({ workers: 1, waitingMax: 1 });
    const waits = Promise.allSettled([press.draw(sheet(pluggedDrain)), press.drawReport(report)]);
    await press.close();
    for (const answer of await waits) {
      expect(answer).toMatchObject({ status: 'rejected', reason: { slug: 'unavailable' } });
    }
  });

  it('while timers here go on', async () => {
    press = createPress({ workers: 1, waitingMax: 20 });
    let ticks = 0;
    const timer = setInterval(() => {
      ticks += 1;
    }, 1);
    await Promise.all(Array.from({ length: 12 }, () => press.draw(sheet(capacitorAndContactor))));
    clearInterval(timer);
    expect(ticks).toBeGreaterThan(12);
  });

  it('no more wait than may wait; the next is told to come back, and then it is drawn', async () => {
    press = createPress({ workers: 1, waitingMax: 2 });
    const answers = await Promise.allSettled(
      Array.from({ length: 5 }, () => press.draw(sheet(pluggedDrain))),
    );
    const drawn = 'fulfilled';
    const refused = 'rejected';
    expect(answers.map(({ status }) => status)).toEqual([drawn, drawn, drawn, refused, refused]);
    expect(answers[4]).toMatchObject({ reason: { slug: 'unavailable', status: 503 } });
    expect((await press.draw(sheet(pluggedDrain))).bytes.length).toBeGreaterThan(1_000);
  });

  it('a free worker is used even where nothing may wait', async () => {
    press = createPress({ workers: 1, waitingMax: 0 });
    expect((await press.draw(sheet(pluggedDrain))).bytes.length).toBeGreaterThan(1_000);
    expect((await press.draw(sheet(pluggedDrain))).bytes.length).toBeGreaterThan(1_000);
  });

  it('a paper that does not add up is refused as such, and the next one is drawn', async () => {
    press = createPress({ workers: 1, waitingMax: 2 });
    const options = pluggedDrain.options.map((option) => ({ ...option, totalCents: 1 }));
    const wrong = press.draw(sheet({ ...pluggedDrain, options }));
    await expect(wrong).rejects.toBeInstanceOf(PaperRefused);
    expect((await press.draw(sheet(pluggedDrain))).bytes.length).toBeGreaterThan(1_000);
  });

  it('what waits is refused when it is closed, and nothing is taken after', async () => {
    press = createPress({ workers: 1, waitingMax: 5 });
    const answers = Array.from({ length: 3 }, () => press.draw(sheet(pluggedDrain)));
    const settled = Promise.allSettled(answers);
    await press.close();
    for (const answer of await settled) {
      expect(answer).toMatchObject({ status: 'rejected', reason: { slug: 'unavailable' } });
    }
    await expect(press.draw(sheet(pluggedDrain))).rejects.toMatchObject({ slug: 'unavailable' });
  });
});

describe('a worker that dies', () => {
  const script = new URL('./dying-worker.mjs', import.meta.url);

  it.each(['deadly', 'throwing'])(
    'of a paper, %s, takes that one with it; another draws those that waited',
    async (quoteNumber) => {
      press = createPress({ workers: 1, waitingMax: 5, script });
      const answers = await Promise.allSettled(
        ['1', quoteNumber, '2', '3'].map((number) =>
          press.draw(sheet({ ...pluggedDrain, quoteNumber: number })),
        ),
      );
      expect(answers.map(said)).toEqual(['1', 'unavailable', '2', '3']);
    },
  );

  it('or comes to no end is ended: its paper is refused, and another draws those that waited', async () => {
    const hanging = new URL('./hanging-worker.mjs', import.meta.url);
    // As long as a worker may take to start where much else runs.
    press = createPress({ workers: 1, waitingMax: 5, drawMsMax: 3_000, script: hanging });
    const answers = await Promise.allSettled(
      ['1', 'endless', '2', 'endless', '3'].map((number) =>
        press.draw(sheet({ ...pluggedDrain, quoteNumber: number })),
      ),
    );
    expect(answers.map(said)).toEqual(['1', 'unavailable', '2', 'unavailable', '3']);
    expect(answers[1]).toMatchObject({ reason: { message: expect.stringContaining('too long') } });
  });

  it('while it starts refuses each paper once, and never hangs', async () => {
    const missing = new URL('./no-such-worker.mjs', import.meta.url);
    press = createPress({ workers: 1, waitingMax: 5, script: missing });
    const answers = await Promise.allSettled(
      Array.from({ length: 3 }, () => press.draw(sheet(pluggedDrain))),
    );
    expect(answers.map(said)).toEqual(['unavailable', 'unavailable', 'unavailable']);
  });
});

const report: Report = {
  company: pluggedDrain.company,
  title: 'What was looked at',
  facts: ['June 2026'],
  lead: 'One job was looked at.',
  createdAt: '2026-07-01T12:00:00.000Z',
  sections: [{ heading: 'Found', texts: ['Nothing waits for an answer.'] }],
};

function sheet(paper: QuotePaper): PaperSheet {
  return { paper: { kind: 'quote', paper }, attachments: [] };
}

/** As it comes from another thread, where bytes are no Buffer. */
async function here(each: PaperSheet): Promise<DrawnPages> {
  const { bytes, pagesSha256 } = await drawToSeal(each);
  return { bytes: new Uint8Array(bytes), pagesSha256 };
}

function said(answer: PromiseSettledResult<DrawnPages>): string {
  if (answer.status === 'fulfilled') return new TextDecoder().decode(answer.value.bytes);
  return answer.reason.slug;
}
