import type { FastifyInstance } from 'fastify';
import { Gauge, Histogram, type Registry } from 'prom-client';

/**
 * Counts requests and how long they take, by method, status and the pattern of the route: never by
 * the address itself, which holds ids and has no end of values. What never got its whole answer has
 * the status `gone`; a stream, which lasts for as long as somebody listens, is only in flight.
 */
export function observeRequests(app: FastifyInstance, registry: Registry): void {
  const durations = new Histogram({
    name: 'evenhand_http_request_duration_seconds',
    help: 'Time from the head of a request to the end of its answer.',
    labelNames: ['method', 'route', 'status'] as const,
    buckets: [0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 10],
    registers: [registry],
  });
  const inFlight = new Gauge({
    name: 'evenhand_http_requests_in_flight',
    help: 'Requests that have no whole answer yet, streams among them.',
    registers: [registry],
  });
  app.addHook('onRequest', async (request, { raw }) => {
    inFlight.inc();
    const began = performance.now();
    raw.once('close', () => {
      inFlight.dec();
      if (String(raw.getHeader('content-type')).startsWith('text/event-stream')) return;
      durations.observe(
        {
          method: request.method,
          route: request.routeOptions.url ?? 'none',
          status: raw.writableFinished ? String(raw.statusCode) : 'gone',
        },
        (performance.now() - began) / 1_000,
      );
    });
  });
}
