import type { FastifyReply, FastifyRequest } from 'fastify';
import { sendPlain } from '../page-frame/index.ts';
import { refuseCrossSite } from '../platform/http/refuse-cross-site.ts';
import type { Verifier } from '../proof/index.ts';
import { checkFile } from './check-file.ts';
import type { PageDeps } from './page-deps.ts';
import { VERIFY_PATH } from './paper-page.ts';
import { takeFile } from './take-file.ts';
import type { UploadGate } from './upload-gate.ts';
import { type NotRead, verdictPage, verifyPage } from './verify-page.ts';
import type { Unread } from './words.ts';

export interface FileDeps extends PageDeps {
  verifier: Verifier;
  gate: UploadGate;
}

/** Answers a file with what it is worth, or with the form again and why it was not read. */
export async function answerFile(deps: FileDeps, request: FastifyRequest, reply: FastifyReply) {
  refuseCrossSite(request);
  const entry = deps.gate.enter(request.ip, deps.clock.now());
  if (entry.outcome !== 'entered') {
    const { outcome: why, waitSeconds } = entry;
    reply.header('retry-after', waitSeconds);
    return sendNotRead(deps, request, reply, { why, waitSeconds });
  }
  try {
    const file = await takeFile(request);
    if (file.outcome === 'not_taken') return await sendNotRead(deps, request, reply, file);
    const { db, verifier, clock } = deps;
    const by = { db, verifier, now: clock.now() };
    const checked = await checkFile(by, file.bytes, untilGone(reply));
    return await sendPlain(deps, request, reply, {
      path: VERIFY_PATH,
      page: (to) => verdictPage(to, checked),
    });
  } finally {
    entry.leave();
  }
}

/** Ends when the answer is out, or nobody waits for it any more. */
function untilGone(reply: FastifyReply): AbortSignal {
  const gone = new AbortController();
  reply.raw.once('close', () => gone.abort());
  return gone.signal;
}

/** Sends the form with what is wrong above it. */
export function sendNotRead(
  deps: Pick<PageDeps, 'db'>,
  request: FastifyRequest,
  reply: FastifyReply,
  notRead: NotRead,
) {
  // What has a status already was refused before it came here.
  if (reply.statusCode === 200) reply.code(STATUS[notRead.why]);
  return sendPlain(deps, request, reply, {
    path: VERIFY_PATH,
    page: (to) => verifyPage(to, notRead),
  });
}

const STATUS: Record<Unread, number> = {
  no_file: 400,
  empty: 400,
  several_files: 400,
  too_large: 413,
  unreadable: 400,
  busy: 503,
  too_often: 429,
  cross_site: 403,
  our_mistake: 500,
};
