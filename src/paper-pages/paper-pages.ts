import type { FastifyError, FastifyInstance } from 'fastify';
import { PAGE_HEADERS, sendPlain } from '../page-frame/index.ts';
import { takeForms } from '../platform/http/form-body.ts';
import { createVerifier } from '../proof/index.ts';
import { answerFileError, answerPaperError } from './answer-errors.ts';
import { answerFile } from './answer-file.ts';
import { askAgain, backToPaper, lookUp, sendMissing } from './look-up.ts';
import type { PageDeps } from './page-deps.ts';
import { VERIFY_PATH } from './paper-page.ts';
import { servesKeySet } from './serves-key-set.ts';
import { takesFiles } from './take-file.ts';
import { createUploadGate } from './upload-gate.ts';
import { verifyPage } from './verify-page.ts';

/**
 * The pages that anybody may open: what was issued under the fingerprint of a paper, and whether a
 * file is one of ours. They tell what the paper in hand says already, and what became of it.
 */
export function servesPaperPages(app: FastifyInstance, deps: PageDeps): void {
  servesKeySet(app, deps);
  app.register(async (scope) => servesPapers(scope, deps));
  app.register(async (scope) => servesVerdicts(scope, deps));
}

const OPEN = { schema: { hide: true }, config: { access: 'public' } } as const;
const PAPER = '/paper/:hash';

function servesPapers(scope: FastifyInstance, deps: PageDeps): void {
  asPages(scope);
  takeForms(scope, { bytesMax: FORM_BYTES_MAX });
  scope.setErrorHandler((error: FastifyError, request, reply) =>
    answerPaperError(deps, error, request, reply),
  );
  scope.get('/paper', OPEN, (request, reply) => sendMissing(deps, request, reply));
  for (const address of [PAPER, `${PAPER}/`]) {
    scope.get(address, OPEN, (request, reply) => lookUp(deps, request, reply));
  }
  scope.post(`${PAPER}/link`, OPEN, (request, reply) => askAgain(deps, request, reply));
  scope.get(`${PAPER}/link`, OPEN, (request, reply) => backToPaper(deps, request, reply));
}

/** The language of the page, and nothing else. */
const FORM_BYTES_MAX = 1_024;

async function servesVerdicts(scope: FastifyInstance, deps: PageDeps): Promise<void> {
  asPages(scope);
  await takesFiles(scope);
  const verifier = createVerifier({ waitingMax: WAITING_MAX, timeMs: READ_WITHIN_MS });
  // Files that are still read are no reason to wait with closing.
  scope.addHook('preClose', () => verifier.close());
  scope.setErrorHandler((error: FastifyError, request, reply) =>
    answerFileError(deps, error, request, reply),
  );
  scope.get(VERIFY_PATH, OPEN, (request, reply) =>
    sendPlain(deps, request, reply, { path: VERIFY_PATH, page: (to) => verifyPage(to) }),
  );
  const bounded = { ...deps, verifier, gate: createUploadGate() };
  scope.post(VERIFY_PATH, OPEN, (request, reply) => answerFile(bounded, request, reply));
}

/** Most take a second or two; whoever would wait much longer is told so at once. */
const WAITING_MAX = 4;
/** Well within the time of a request, so that a file that takes too long is told to be one. */
const READ_WITHIN_MS = 10_000;

function asPages(scope: FastifyInstance): void {
  scope.addHook('onRequest', async (_, reply) => {
    reply.headers(PAGE_HEADERS);
  });
}
