import { parentPort } from 'node:worker_threads';

// A worker that comes to no end with one paper and gives anything else back as its number.
parentPort?.on(
  'message',
  ({
    sheet: {
      paper: { paper },
    },
  }) => {
    while (paper.quoteNumber === 'endless');
    parentPort?.postMessage({
      outcome: 'drawn',
      pages: { bytes: new TextEncoder().encode(paper.quoteNumber), pagesSha256: '' },
    });
  },
);
