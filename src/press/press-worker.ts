import { parentPort } from 'node:worker_threads';
import { PaperRefused, type PaperSheet } from '../documents/index.ts';
import { drawToSeal } from '../proof/index.ts';
import type { Drawn } from './press.ts';

parentPort?.on('message', (sheet: PaperSheet) => {
  void draw(sheet).then((drawn) => parentPort?.postMessage(drawn));
});

async function draw(sheet: PaperSheet): Promise<Drawn> {
  try {
    return { outcome: 'drawn', pages: await drawToSeal(sheet) };
  } catch (error) {
    const message = error instanceof Error ? error.message : String(error);
    return { outcome: error instanceof PaperRefused ? 'refused' : 'failed', message };
  }
}
