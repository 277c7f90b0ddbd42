import type { FastifyDynamicSwaggerOptions } from '@fastify/swagger';

/** The head of the OpenAPI document; everything else is made from the routes' own schemas. */
export function openapiDocument(
  publicUrl: string | undefined,
): NonNullable<FastifyDynamicSwaggerOptions['openapi']> {
  return {
    openapi: '3.1.0',
    info: {
      title: 'Evenhand',
      version: '1',
      description: DESCRIPTION,
    },
    servers: [{ url: publicUrl ?? '/' }],
    components: { securitySchemes: { token: { type: 'http', scheme: 'bearer' } } },
  };
}

const DESCRIPTION = `Job tickets and repair quotes for a home-comfort service company.

- Amounts are US dollars in integer cents; fields end in \`Cents\`. Instants are RFC 3339 with \`Z\`.
- A POST that creates or does something needs an \`Idempotency-Key\`: repeated within 24 hours, it
  gives the first answer again, byte for byte, with \`Idempotency-Replayed: true\`. A POST that only
  computes stores nothing and needs none.
- What has an \`ETag\` is changed with \`If-Match\`.
- Every refusal is \`application/problem+json\` (RFC 9457); its \`type\` leads to a page.
- Lists are pages: follow \`nextCursor\` until it is null.`;
