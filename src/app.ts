import fastifyHelmet from '@fastify/helmet';
import fastifySwagger from '@fastify/swagger';
import fastifySwaggerUi from '@fastify/swagger-ui';
import type { FastifyInstance } from 'fastify';
import { jsonSchemaTransform, jsonSchemaTransformObject } from 'fastify-type-provider-zod';
import type { Logger } from 'pino';
import type { Registry } from 'prom-client';
import { agreementRoutes } from './agreements/index.ts';
import { auditReportRoutes } from './audit-reports/index.ts';
import { auditRoutes } from './audits/index.ts';
import { boardRoutes, createBoardFeed } from './board/index.ts';
import { calendarRoutes, servesCalendars } from './calendars/index.ts';
import { callRoutes } from './calls/index.ts';
import { claimRoutes } from './claims/index.ts';
import { companyRoutes, requiresCompany } from './company/index.ts';
import { consumerRuleRoutes } from './consumer-rules/index.ts';
import { answersLostCustomers, servesCustomerPages } from './customer-pages/index.ts';
import { customerRoutes } from './customers/index.ts';
import { dayPlanRoutes } from './day-plans/index.ts';
import { deliveryRoutes } from './delivery/index.ts';
import { dispatchPolicyRoutes } from './dispatch-policy/index.ts';
import { equipmentRoutes } from './equipment/index.ts';
import { erasingRoutes } from './erasing/index.ts';
import { evidenceRoutes } from './evidence/index.ts';
import { importedBillRoutes } from './imported-bills/index.ts';
import { invoiceRoutes } from './invoices/index.ts';
import { journalRoutes } from './journal/index.ts';
import { maintenanceRoutes } from './maintenance/index.ts';
import { servesStylesheet } from './page-frame/index.ts';
import { answersLostReaders, servesPaperPages } from './paper-pages/index.ts';
import { type PaperDesk, paperRoutes } from './papers/index.ts';
import { phoneCheckRoutes } from './phone-checks/index.ts';
import type { Clock } from './platform/clock.ts';
import type { Database } from './platform/database/database.ts';
import { createServer } from './platform/http/create-server.ts';
import { healthRoutes } from './platform/http/health.ts';
import { mountRoutes } from './platform/http/mount.ts';
import { openapiDocument } from './platform/http/openapi.ts';
import { servesProblemPages } from './platform/http/problem-pages.ts';
import {
  type Pace,
  type PaceLimits,
  refuseWhenBehind,
} from './platform/http/refuse-when-behind.ts';
import type { Route } from './platform/http/route.ts';
import type { Ids } from './platform/ids.ts';
import { observeRequests } from './platform/metrics/observe-requests.ts';
import { createReadiness, type NotReady } from './platform/readiness.ts';
import type { ReadReport } from './platform/reports/open-reports.ts';
import { priceBookDraftRoutes, priceBookRoutes, rateWorkshopRoutes } from './pricebook/index.ts';
import { priorityRoutes } from './priorities/index.ts';
import { quoteLinkRoutes } from './quote-links/index.ts';
import { followUpRoutes, quoteRoutes, whyRoutes } from './quotes/index.ts';
import { type FactorKey, newFactorKey, signInRoutes } from './sign-in/index.ts';
import { servesSignInPages } from './sign-in-pages/index.ts';
import { siteRoutes } from './sites/index.ts';
import { staffRoutes } from './staff/index.ts';
import { supplyRoutes } from './supplies/index.ts';
import { technicianRoutes } from './technicians/index.ts';
import { ticketRoutes } from './tickets/index.ts';
import { partWaitRoutes, visitRoutes } from './visits/index.ts';
import { windowRoutes } from './windows/index.ts';
import { workRoutes } from './work/index.ts';

/** Every route of the API, room by room in the order of the job. */
export const routes: readonly Route[] = [
  ...companyRoutes,
  ...staffRoutes,
  ...signInRoutes,
  ...dispatchPolicyRoutes,
  ...technicianRoutes,
  ...priceBookRoutes,
  ...priceBookDraftRoutes,
  ...rateWorkshopRoutes,
  ...consumerRuleRoutes,
  ...customerRoutes,
  ...erasingRoutes,
  ...siteRoutes,
  ...agreementRoutes,
  ...maintenanceRoutes,
  ...equipmentRoutes,
  ...callRoutes,
  ...ticketRoutes,
  ...phoneCheckRoutes,
  ...priorityRoutes,
  ...visitRoutes,
  ...partWaitRoutes,
  ...windowRoutes,
  ...dayPlanRoutes,
  ...boardRoutes,
  ...calendarRoutes,
  ...evidenceRoutes,
  ...quoteRoutes,
  ...followUpRoutes,
  ...whyRoutes,
  ...quoteLinkRoutes,
  ...workRoutes,
  ...invoiceRoutes,
  ...importedBillRoutes,
  ...claimRoutes,
  ...paperRoutes,
  ...deliveryRoutes,
  ...supplyRoutes,
  ...auditRoutes,
  ...auditReportRoutes,
  ...journalRoutes,
];

/** What the application is given from outside; it reads no environment and opens no port. */
export interface AppDeps {
  db: Database;
  /** Where reports are read; in that database unless given. */
  readReport?: ReadReport;
  clock: Clock;
  ids: Ids;
  log: Logger;
  /** What makes the files of papers. */
  papers: PaperDesk;
  /** What the secrets of second factors are sealed with; gone with the process when not given. */
  factorKey?: FactorKey;
  /** Start of links to this service; relative links when absent. */
  publicUrl?: string;
  trustProxy?: string;
  /** Why no request should be sent here; the database is asked when not given. */
  whyNotReady?: () => Promise<NotReady | undefined>;
  /** When requests are refused before they begin; never unless given. */
  pace?: Pace & PaceLimits;
  /** Where requests are counted; nowhere unless given. */
  registry?: Registry;
  /** Whether the interface can be browsed at /docs; it can unless told otherwise. */
  isDocumented?: boolean;
}

/** Builds the application. The caller listens, or injects requests, and closes it. */
export async function buildApp(deps: AppDeps): Promise<FastifyInstance> {
  const typeBase = deps.publicUrl?.replace(/\/$/, '') ?? '';
  const pages = { ...deps, typeBase };
  const answersCustomers = answersLostCustomers(pages);
  const answersReaders = answersLostReaders(pages);
  const board = createBoardFeed(deps);
  const factorKey = deps.factorKey ?? newFactorKey();
  const app = createServer({
    log: deps.log,
    typeBase,
    ...(deps.trustProxy !== undefined && { trustProxy: deps.trustProxy }),
    answersOtherwise: (request, reply) =>
      answersCustomers(request, reply) || answersReaders(request, reply),
  });
  if (deps.registry !== undefined) observeRequests(app, deps.registry);
  if (deps.pace !== undefined) refuseWhenBehind(app, deps.pace, deps.pace);

  await app.register(fastifyHelmet, { contentSecurityPolicy: NOTHING_FOREIGN });
  await app.register(fastifySwagger, {
    openapi: openapiDocument(deps.publicUrl),
    transform: jsonSchemaTransform,
    transformObject: jsonSchemaTransformObject,
  });
  if (deps.isDocumented ?? true) await servesDocs(app);

  await app.register(async (scope) => {
    healthRoutes(scope, deps.whyNotReady ?? createReadiness({ sql: deps.db.pool }));
    servesProblemPages(scope);
    servesStylesheet(scope);
    servesCustomerPages(scope, pages);
    servesPaperPages(scope, pages);
    servesSignInPages(scope, { ...pages, factorKey });
    servesCalendars(scope, deps);
    // A stream has no end of its own, and the service would wait for it.
    scope.addHook('preClose', async () => board.close());
    const tools = {
      entranceTools: { factorKey },
      ...{ fileTools: { papers: deps.papers }, streamTools: { board } },
    };
    const requireCompany = requiresCompany(deps.db.prisma);
    mountRoutes(scope, routes, { ...deps, typeBase, requireCompany, ...tools });
  });
  return app;
}

/** The browsable interface brings scripts and styles of its own, under a policy of its own. */
async function servesDocs(app: FastifyInstance): Promise<void> {
  await app.register(fastifySwaggerUi, {
    routePrefix: '/docs',
    staticCSP: OWN_PAGES,
    theme: { title: 'Evenhand API' },
    uiConfig: { layout: 'BaseLayout' },
  });
  // Whoever types the bare address is looking for what there is.
  app.get('/', { schema: { hide: true }, config: { access: 'public' } }, (_, reply) =>
    reply.redirect('/docs', 302),
  );
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
