import { z } from 'zod';
import { anyStaff } from '../platform/access/actor.ts';
import { idParam } from '../platform/http/formats.ts';
import { notFound } from '../platform/http/problem.ts';
import { bytes, type Route, read } from '../platform/http/route.ts';
import { ownTickets } from '../staff/index.ts';
import { paperLanguageSchema, paperSchema } from './contract.ts';
import { fileAnswer } from './file-answer.ts';
import { fileOf } from './file-of.ts';
import { listPapers } from './list-papers.ts';

/** Routes of papers: what papers there are of a ticket, and their files. */
export const paperRoutes: readonly Route[] = [
  read({
    operationId: 'listPapers',
    summary: 'The papers of a ticket, oldest first',
    description:
      'Quotes, the papers of a yes and of a no, invoices, credit memos and the records of the ' +
      'work. Each is on record from its act on; its file is drawn when it is first asked for.',
    tag: 'papers',
    path: '/v1/papers',
    access: anyStaff,
    query: z.strictObject({ ticketId: z.uuid() }),
    response: z.strictObject({ items: z.array(paperSchema) }),
    problems: ['not-found'],
    handle: async (context, { query }) => ({
      body: { items: await listPapers(context, query.ticketId) },
    }),
  }),
  bytes({
    operationId: 'getPaperFile',
    summary: 'A paper as PDF, drawn once and the same ever after',
    description:
      'It carries its own data and the company’s signature over them. While many papers are being ' +
      'drawn it answers 503 with Retry-After.',
    tag: 'papers',
    path: '/v1/papers/:paperId/file',
    access: anyStaff,
    params: idParam('paperId'),
    query: z.strictObject({ language: paperLanguageSchema.optional() }),
    mediaTypes: ['application/pdf'],
    disposition: 'inline',
    handle: async (context, { params, query }) => {
      const { paperId } = params;
      const where = { id: paperId, ticket: ownTickets(context.actor) };
      if ((await context.prisma.paper.count({ where })) === 0) throw notFound('paper');
      return fileAnswer(await fileOf(context, paperId, query.language ?? 'en'));
    },
  }),
];
