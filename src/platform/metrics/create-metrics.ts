import { collectDefaultMetrics, Registry } from 'prom-client';

/** A registry of one process, with what Node tells of itself: memory, event loop, collection. */
export function createMetrics(): Registry {
  const registry = new Registry();
  collectDefaultMetrics({ register: registry });
  return registry;
}
