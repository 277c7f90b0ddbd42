import Fastify, { type FastifyBaseLogger, type FastifyInstance } from 'fastify';
import { serializerCompiler } from 'fastify-type-provider-zod';
import type { Logger } from 'pino';
import {
  type AnswersOtherwise,
  answerErrors,
  answerUnroutable,
  JSON_BODY,
} from './answer-errors.ts';
import { checkPart } from './check-part.ts';
import { refuseUnreadable } from './refuse-unreadable.ts';
import { requestIds } from './request-id.ts';
import { STRICT_HEADERS } from './strict-headers.ts';

export interface ServerOptions {
  log: Logger;
  /** Start of the URLs that problems point to. */
  typeBase: string;
  /** Addresses of proxies whose forwarded headers are believed; none unless given. */
  trustProxy?: string;
  /** Answers what leads nowhere, at addresses that people open, with a page instead of a problem. */
  answersOtherwise?: AnswersOtherwise;
}

/** An empty server with our limits, our request ids and our answers to whatever goes wrong. */
export function createServer({
  log,
  typeBase,
  trustProxy,
  answersOtherwise,
}: ServerOptions): FastifyInstance {
  const app = Fastify({
    loggerInstance: log as FastifyBaseLogger,
    genReqId: requestIds(trustProxy),
    requestIdHeader: false,
    trustProxy: trustProxy ?? false,
    bodyLimit: JSON_BODY.bytesMax,
    // Longer than the longest statement and transaction together, so that those end first.
    handlerTimeout: 20_000,
    requestTimeout: 30_000,
    forceCloseConnections: 'idle',
    // Requests that come while closing are refused by answerErrors, as problems.
    return503OnClosing: false,
    frameworkErrors: answerUnroutable(typeBase, answersOtherwise),
    clientErrorHandler: refuseUnreadable(typeBase),
    onProtoPoisoning: 'error',
    routerOptions: { maxParamLength: 100 },
    schemaController: { compilersFactory: NO_JSON_SCHEMA },
  });
  app.decorateRequest('actor', undefined);
  app.setValidatorCompiler(checkPart);
  app.setSerializerCompiler(serializerCompiler);
  app.removeContentTypeParser('text/plain');
  app.addHook('onSend', async (request, reply) => {
    reply.header('x-request-id', request.id);
    for (const [name, value] of Object.entries(UNLESS_SAID)) {
      if (!reply.hasHeader(name)) reply.header(name, value);
    }
  });
  answerErrors(app, typeBase, answersOtherwise);
  return app;
}

// Unless told otherwise it loads what compiles JSON Schema, a hundred files; every schema is zod's.
const NO_JSON_SCHEMA = { buildValidator: notCompiled, buildSerializer: notCompiled };

function notCompiled(): never {
  throw new Error('No schema here is a JSON Schema.');
}

const UNLESS_SAID = { ...STRICT_HEADERS, 'cache-control': 'no-store' };
