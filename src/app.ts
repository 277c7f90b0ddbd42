import fastifyHelmet from '@fastify/helmet';
import fastifySwagger from '@fastify/swagger';
import fastifySwaggerUi from '@fastify/swagger-ui';
import Fastify, { type FastifyBaseLogger, type FastifyInstance } from 'fastify';
import {
  jsonSchemaTransform,
  jsonSchemaTransformObject,
  serializerCompiler,
} from 'fastify-type-provider-zod';
import type { Logger } from 'pino';
import { v4 } from 'uuid';
import { companyRoutes } from './company/index.ts';
import { customerRoutes } from './customers/index.ts';
import { equipmentRoutes } from './equipment/index.ts';
import { evidenceRoutes } from './evidence/index.ts';
import { journalRoutes } from './journal/index.ts';
import type { Clock } from './platform/clock.ts';
import type { Database } from './platform/database/database.ts';
import { answerErrors, answerUnroutable } from './platform/http/answer-errors.ts';
import { checkPart } from './platform/http/check-part.ts';
import { healthRoutes } from './platform/http/health.ts';
import { mountRoutes } from './platform/http/mount.ts';
import { openapiDocument } from './platform/http/openapi.ts';
import { servesProblemPages } from './platform/http/problem-pages.ts';
import { refuseUnreadable } from './platform/http/refuse-unreadable.ts';
import type { Route } from './platform/http/route.ts';
import type { Ids } from './platform/ids.ts';
import { priceBookRoutes } from './pricebook/index.ts';
import { quoteRoutes } from './quotes/index.ts';
import { siteRoutes } from './sites/index.ts';
import { staffRoutes } from './staff/index.ts';
import { ticketRoutes } from './tickets/index.ts';
import { visitRoutes } from './visits/index.ts';

/** Every route of the API, room by room in the order of the job. */
export const routes: readonly Route[] = [
  ...companyRoutes,
  ...staffRoutes,
  ...priceBookRoutes,
  ...customerRoutes,
  ...siteRoutes,
  ...equipmentRoutes,
  ...ticketRoutes,
  ...visitRoutes,
  ...evidenceRoutes,
  ...quoteRoutes,
  ...journalRoutes,
];

/** What the application is given from outside; it reads no environment and opens no port. */
export interface AppDeps {
  db: Database;
  clock: Clock;
  ids: Ids;
  log: Logger;
  /** Start of links to this service; relative links when absent. */
  publicUrl?: string;
  trustProxy?: string;
}

/** Builds the application. The caller listens, or injects requests, and closes it. */
export async function buildApp(deps: AppDeps): Promise<FastifyInstance> {
  const typeBase = deps.publicUrl?.replace(/\/$/, '') ?? '';
  const app = Fastify({
    loggerInstance: deps.log as FastifyBaseLogger,
    genReqId: () => v4(),
    requestIdHeader: false,
    trustProxy: deps.trustProxy ?? false,
    bodyLimit: 256 * 1024,
    // Longer than the longest statement and transaction together, so that those end first.
    handlerTimeout: 20_000,
    requestTimeout: 30_000,
    forceCloseConnections: 'idle',
    // Requests that come while closing are refused by answerErrors, as problems.
    return503OnClosing: false,
    frameworkErrors: answerUnroutable(typeBase),
    clientErrorHandler: refuseUnreadable(typeBase),
    onProtoPoisoning: 'error',
    routerOptions: { maxParamLength: 100 },
  });
  app.decorateRequest('actor', undefined);
  app.setValidatorCompiler(checkPart);
  app.setSerializerCompiler(serializerCompiler);
  app.removeContentTypeParser('text/plain');
  app.addHook('onSend', async (request, reply) => {
    reply.header('x-request-id', request.id);
    if (!reply.hasHeader('cache-control')) reply.header('cache-control', 'no-store');
  });
  answerErrors(app, typeBase);

  await app.register(fastifyHelmet, { contentSecurityPolicy: NOTHING_FOREIGN });
  await app.register(fastifySwagger, {
    openapi: openapiDocument(deps.publicUrl),
    transform: jsonSchemaTransform,
    transformObject: jsonSchemaTransformObject,
  });
  // The browsable interface brings scripts and styles of its own, under a policy of its own.
  await app.register(fastifySwaggerUi, {
    routePrefix: '/docs',
    staticCSP: OWN_PAGES,
    theme: { title: 'Evenhand API' },
    uiConfig: { layout: 'BaseLayout' },
  });

  await app.register(async (scope) => {
    healthRoutes(scope, deps.db);
    servesProblemPages(scope);
    mountRoutes(scope, routes, { ...deps, typeBase });
  });
  return app;
}

// Answers are data and plain pages: they load nothing, send forms nowhere and are framed by nobody.
const NOTHING_FOREIGN = {
  useDefaults: false,
  directives: {
    defaultSrc: ["'none'"],
    baseUri: ["'none'"],
    formAction: ["'none'"],
    frameAncestors: ["'none'"],
  },
};

const OWN_PAGES = [
  "default-src 'self'",
  "img-src 'self' data:",
  "style-src 'self' 'unsafe-inline'",
  "object-src 'none'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join('; ');
