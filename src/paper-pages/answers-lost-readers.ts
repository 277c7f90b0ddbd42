import { PAGE_HEADERS } from '../page-frame/index.ts';
import type { AnswersOtherwise } from '../platform/http/answer-errors.ts';
import { sendMissing } from './look-up.ts';
import type { PageDeps } from './page-deps.ts';

/**
 * Answers a look at an address of a paper that leads nowhere, as one that was typed wrongly: with
 * the page of a paper that we never issued, for who reads it is a person.
 * @returns whether the address was one of ours, and so was answered
 */
export function answersLostReaders(deps: Pick<PageDeps, 'db'>): AnswersOtherwise {
  return (request, reply) => {
    if (!LOOKS.has(request.method) || !OURS.test(request.url)) return false;
    reply.headers(PAGE_HEADERS);
    // Nobody waits for what is returned here; what may fail in it is answered there.
    void sendMissing(deps, request, reply);
    return true;
  };
}

const LOOKS: ReadonlySet<string> = new Set(['GET', 'HEAD']);
const OURS = /^\/paper(\/|\?|$)/i;
