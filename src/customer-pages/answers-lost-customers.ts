import { PAGE_HEADERS } from '../page-frame/index.ts';
import type { AnswersOtherwise } from '../platform/http/answer-errors.ts';
import type { PageDeps } from './page-deps.ts';
import { missingPage } from './plain-pages.ts';
import { sendPlain } from './send-plain.ts';

/**
 * Answers a look at addresses of ours that lead nowhere, as a link that was copied with a percent
 * sign behind it: with the page of a link that opens nothing, for who reads it is a person.
 * @returns whether the address was one of ours, and so was answered
 */
export function answersLostCustomers(deps: PageDeps): AnswersOtherwise {
  return (request, reply) => {
    if (!LOOKS.has(request.method) || !OURS.test(request.url)) return false;
    reply.headers(PAGE_HEADERS).header('referrer-policy', 'no-referrer').code(404);
    // Nobody waits for what is returned here; what may fail in it is answered there.
    void sendPlain(deps, request, reply, missingPage);
    return true;
  };
}

const LOOKS: ReadonlySet<string> = new Set(['GET', 'HEAD']);
const OURS = /^\/(q|your-quote)(\/|\?|$)/;
