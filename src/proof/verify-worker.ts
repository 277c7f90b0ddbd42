import { parentPort, workerData } from 'node:worker_threads';
import type { KeySet } from './key-set.ts';
import { verifyPaper } from './verify-paper.ts';

const { bytes, keys }: { bytes: Uint8Array; keys: KeySet } = workerData;
parentPort?.postMessage(await verifyPaper(bytes, keys));
