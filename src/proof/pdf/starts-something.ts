import type { StrictPdf } from './strict-pdf.ts';

/** Whether a strictly read file asks a viewer to do something when it, or a page of it, is opened. */
export function startsSomething(pdf: StrictPdf): boolean {
  const catalog = pdf.dictionary(pdf.trailer.entries.get('Root'));
  if (catalog.has('OpenAction') || catalog.has('AA')) return true;
  const kids = pdf.look(pdf.dictionary(catalog.get('Pages')).get('Kids'));
  return kids.kind === 'array' && kids.items.some((page) => pdf.dictionary(page).has('AA'));
}
