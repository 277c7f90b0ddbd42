export { PaperRefused } from './assert-paper-adds-up.ts';
export { formatCents } from './format-cents.ts';
export { paperRenderer } from './paper-renderer.ts';
export type * from './quote-paper.ts';
export { renderQuotePaper } from './render-quote-paper.ts';
