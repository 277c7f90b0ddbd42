import type { FastifyReply, FastifyRequest } from 'fastify';
import { LANGUAGE_COOKIE } from '../platform/http/language-cookie.ts';
import { readCookie } from '../platform/http/read-cookie.ts';
import { chooseLanguage } from './choose-language.ts';
import { type Language, languageSchema } from './language.ts';
import { setCookie } from './set-cookie.ts';

/**
 * The language that a request is answered in.
 * @param customer what is on record of whose page it is, where that is known
 */
export function languageOf(request: FastifyRequest, customer?: string): Language {
  return chooseLanguage({ ...saidBy(request), customer });
}

/** A language that was asked for is kept for the next look; nothing else ever sets it. */
export function keepLanguage(request: FastifyRequest, reply: FastifyReply): void {
  const asked = askedLanguage(request);
  if (asked !== undefined) setCookie(reply, `${LANGUAGE_COOKIE}=${asked}; Max-Age=${KEPT_SECONDS}`);
}

/** The language that the address asks for, if it is one of ours. */
export function askedLanguage(request: FastifyRequest): Language | undefined {
  return languageSchema.safeParse(saidBy(request).query).data;
}

/** An address whose page goes on in the language of this one, also where nothing else says so. */
export function inSameLanguage(path: string, request: FastifyRequest, customer?: string): string {
  const language = languageOf(request, customer);
  const byItself = chooseLanguage({ ...saidBy(request), form: undefined, customer });
  return language === byItself ? path : `${path}?lang=${language}`;
}

const KEPT_SECONDS = 30 * 86_400;

/** An address that cannot be read has no query, and a look has no form. */
function saidBy({ query, body, headers }: FastifyRequest) {
  return {
    query: ((query ?? {}) as { lang?: unknown }).lang,
    form: ((body ?? {}) as { language?: unknown }).language,
    cookie: readCookie(headers.cookie, LANGUAGE_COOKIE),
    acceptLanguage: headers['accept-language'],
  };
}
