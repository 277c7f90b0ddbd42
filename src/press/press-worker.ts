import { parentPort } from 'node:worker_threads';
import { PaperRefused, renderReport } from '../documents/index.ts';
import { drawToSeal } from '../proof/index.ts';
import type { Drawn, Task } from './press.ts';

parentPort?.on('message', (task: Task) => {
  void draw(task).then((drawn) => parentPort?.postMessage(drawn));
});

async function draw(task: Task): Promise<Drawn> {
  try {
    switch (task.kind) {
      case 'paper':
        return { outcome: 'drawn', pages: await drawToSeal(task.sheet) };
      case 'report':
        return { outcome: 'printed', bytes: await renderReport(task.report) };
    }
  } catch (error) {
    const message = error instanceof Error ? error.message : String(error);
    return { outcome: error instanceof PaperRefused ? 'refused' : 'failed', message };
  }
}
