import type { FastifyInstance } from 'fastify';
import { PAGE_HEADERS } from './page-headers.ts';
import { stylesheetPath, stylesheetText } from './stylesheet.ts';

/** The style sheet of every page that people read, and no icon for the browser that asks for one. */
export function servesStylesheet(app: FastifyInstance): void {
  app.get(stylesheetPath, { schema: { hide: true }, config: { access: 'public' } }, (_, reply) =>
    reply
      .headers(PAGE_HEADERS)
      .header('cache-control', 'public, max-age=31536000, immutable')
      .type('text/css; charset=utf-8')
      .send(stylesheetText),
  );
  app.get('/favicon.ico', { schema: { hide: true }, config: { access: 'public' } }, (_, reply) =>
    reply.headers(PAGE_HEADERS).header('cache-control', 'public, max-age=86400').code(204).send(),
  );
}
