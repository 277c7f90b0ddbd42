import { z } from 'zod';
import { anyStaff } from '../platform/access/actor.ts';
import { idParam } from '../platform/http/formats.ts';
import { bytes, type Route, read } from '../platform/http/route.ts';
import { sha256 } from '../platform/sha256.ts';
import { quoteInWords } from './quote-in-words.ts';
import { quoteWhySchema } from './why-contract.ts';
import { whyQuote } from './why-quote.ts';

const oneRevision = {
  tag: 'quotes',
  access: anyStaff,
  params: idParam('quoteId'),
  query: z.strictObject({ revision: z.coerce.number().int().min(1).optional() }),
} as const;

const TEXT = 'text/plain; charset=utf-8';

export const whyRoutes: readonly Route[] = [
  read({
    ...oneRevision,
    operationId: 'whyQuote',
    summary: 'Why a quote costs what it costs: inputs, steps, roundings and sums',
    description:
      'Cost, margin and tiers are for the owner; everybody else sees what a price is made of.',
    path: '/v1/quotes/:quoteId/why',
    response: quoteWhySchema,
    versioned: true,
    handle: (context, { params, query }) => whyQuote(context, params.quoteId, query.revision),
  }),
  bytes({
    ...oneRevision,
    operationId: 'whyQuoteInWords',
    summary: 'The same as a text to follow with a pencil',
    path: '/v1/quotes/:quoteId/why-in-words',
    mediaTypes: [TEXT],
    disposition: 'inline',
    handle: async (context, { params, query }) => {
      const { body } = await whyQuote(context, params.quoteId, query.revision);
      const text = quoteInWords(body);
      return {
        bytes: new TextEncoder().encode(text),
        mediaType: TEXT,
        etag: `"${sha256(text)}"`,
        fileName: `quote-${body.number}-r${body.revision}-why.txt`,
      };
    },
  }),
];
