import { parentPort } from 'node:worker_threads';

// A worker that dies of one paper and gives anything else back as its number.
parentPort?.on(
  'message',
  ({
    sheet: {
      paper: { paper },
    },
  }) => {
    if (paper.quoteNumber === 'deadly') process.exit(3);
    if (paper.quoteNumber === 'throwing') throw new Error('a worker that lost its mind');
    parentPort?.postMessage({
      outcome: 'drawn',
      pages: { bytes: new TextEncoder().encode(paper.quoteNumber), pagesSha256: '' },
    });
  },
);
