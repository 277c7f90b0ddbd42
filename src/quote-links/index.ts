export { draftText, type TextFacts } from './draft-text.ts';
export { type Ending, endingFacts, endingOf } from './ending-of.ts';
export { type LivingLink, linkOf } from './link-of.ts';
export { type MailLink, makeMailLink, type NoMailLink } from './make-mail-link.ts';
export { revokeMailLink } from './revoke-mail-link.ts';
export { quoteLinkRoutes } from './routes.ts';
