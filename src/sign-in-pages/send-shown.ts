import type { FastifyReply, FastifyRequest } from 'fastify';
import {
  keepLanguage,
  type Language,
  languageOf,
  pageFrame,
  sendPage,
} from '../page-frame/index.ts';
import { type Html, type HtmlValue, html } from '../platform/html/html.ts';
import type { PageDeps } from './page-deps.ts';
import type { FormTrouble } from './trouble-of.ts';
import { type Words, words } from './words.ts';

/** What a page of this room is made of. */
export interface Shown {
  own: Words;
  language: Language;
  /** Of the company's clock. */
  timeZone: string;
  /** Why a form comes back. */
  trouble: FormTrouble | undefined;
}

/**
 * Sends a page of this room. Also where no company is set up yet: the first owner comes in before
 * there is one, and sees no letterhead.
 * @param path where the same is shown in another language
 */
export async function sendShown(
  { db }: Pick<PageDeps, 'db'>,
  request: FastifyRequest,
  reply: FastifyReply,
  { path, title, trouble }: { path: string; title: (own: Words) => string; trouble?: FormTrouble },
  content: (shown: Shown) => HtmlValue,
) {
  const company = await db.prisma.company.findUnique({ where: { id: 1 } });
  const language = languageOf(request);
  keepLanguage(request, reply);
  const own = words[language];
  const heading = title(own);
  if (trouble !== undefined) reply.code(trouble.status);
  const page = pageFrame(
    {
      ...{ language, path, title: company ? `${heading}, ${company.name}` : heading },
      ...(company !== null && { company }),
    },
    html`<h1>${heading}</h1>
${trouble && troublePart(trouble, own)}
${content({ own, language, timeZone: company?.timeZone ?? 'UTC', trouble })}`,
  );
  return sendPage(reply, language, page);
}

/** It stands before the form, so that who is read to hears it first. */
function troublePart({ text }: FormTrouble, own: Words): Html {
  return html`<div class="notice" role="alert"><p id="trouble">${text(own)}</p></div>`;
}
