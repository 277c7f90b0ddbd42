import { parentPort } from 'node:worker_threads';
import { planDay } from '../planning/index.ts';
import type { PlanAnswer, PlanRequest } from './plan-beside.ts';

parentPort?.on('message', ({ id, order }: PlanRequest) => {
  parentPort?.postMessage({ id, ...outcomeOf(order) } satisfies PlanAnswer);
});

function outcomeOf({ crews, stops, road, effort }: PlanRequest['order']) {
  try {
    return { plan: planDay(crews, stops, road, effort) };
  } catch (error) {
    return { failure: error instanceof Error ? error.message : String(error) };
  }
}
