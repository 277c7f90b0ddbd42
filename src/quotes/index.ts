export { composePaper, type PaperFacts } from './compose-paper.ts';
export { type RepriceReport, repriceQuotes } from './reprice-quotes.ts';
export { lineRow, optionRow } from './revision-rows.ts';
export { quoteRoutes } from './routes.ts';
export type { RevisionScope } from './stored-revisions.ts';
export { whyRoutes } from './why-routes.ts';
