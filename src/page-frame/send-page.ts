import type { FastifyReply } from 'fastify';
import type { Html } from '../platform/html/html.ts';
import type { Language } from './language.ts';

export function sendPage(reply: FastifyReply, language: Language, page: Html) {
  return reply
    .header('content-language', language)
    .type('text/html; charset=utf-8')
    .send(page.toString());
}
