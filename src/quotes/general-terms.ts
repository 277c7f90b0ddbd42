import type { PaperLegalText } from '../documents/index.ts';

/** Cautions that every paper carries: the usual ones of the trade, common practice. */
export const generalCautions: readonly string[] = [
  'Do not open the equipment or its electrical panel: live voltage and stored charge can kill.',
  'If you smell gas or burning, or a carbon monoxide alarm sounds: get everyone out, then call 911.',
  'A breaker that trips again stays off until the cause is found.',
];

/**
 * What the company promises by the way this paper is made. Texts that a jurisdiction asks for are
 * data of that jurisdiction and are confirmed by the owner's counsel.
 */
export const generalTerms: readonly PaperLegalText[] = [
  {
    title: 'Your answer decides',
    text: 'No work beyond the visit starts before you accept an option in writing. You are billed for the option you accept and nothing beyond it; further work needs another written yes.',
  },
  {
    title: 'Rules that come first',
    text: 'Local codes, permits and licensed practice rule over anything in this quote. Your rights under consumer-protection law are not limited by it.',
  },
];
