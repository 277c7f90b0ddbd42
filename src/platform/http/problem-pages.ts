import type { FastifyInstance } from 'fastify';
import { notFound } from './problem.ts';
import { problemCatalog, problemSlugs } from './problem-catalog.ts';

/** The pages that the `type` of a problem leads to, made from the catalog. */
export function servesProblemPages(app: FastifyInstance): void {
  app.get('/problems', { schema: { hide: true }, config: { access: 'public' } }, (_, reply) =>
    reply.type('text/html; charset=utf-8').send(page('Problems', listOfProblems())),
  );
  app.get<{ Params: { slug: string } }>(
    '/problems/:slug',
    { schema: { hide: true }, config: { access: 'public' } },
    (request, reply) => {
      const slug = problemSlugs.find((known) => known === request.params.slug);
      if (slug === undefined) throw notFound('problem');
      const { status, title, explanation, remedy } = problemCatalog[slug];
      const body = `<p><code>${slug}</code>, status ${status}</p><p>${explanation}</p>
<h2>What to do</h2><p>${remedy.replace(/`([^`]+)`/g, '<code>$1</code>')}</p>`;
      return reply.type('text/html; charset=utf-8').send(page(title, body));
    },
  );
}

function listOfProblems(): string {
  const rows = problemSlugs.map(
    (slug) => `<li><a href="/problems/${slug}">${slug}</a> ${problemCatalog[slug].title}</li>`,
  );
  return `<ul>${rows.join('\n')}</ul>`;
}

function page(title: string, body: string): string {
  return `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>${title}</title>
<meta name="viewport" content="width=device-width, initial-scale=1"></head>
<body><main><h1>${title}</h1>${body}</main></body></html>`;
}
