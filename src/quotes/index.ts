export { composePaper, type PaperFacts } from './compose-paper.ts';
export { lineRow, optionRow } from './revision-rows.ts';
export { quoteRoutes } from './routes.ts';
