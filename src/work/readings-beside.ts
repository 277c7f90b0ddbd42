import type { PaperBeforeAfter, PaperLanguage, PaperMeasurement } from '../documents/index.ts';
import { drawnMeasurements, paperMeasurement } from '../quotes/index.ts';
import type { Criterion } from '../trade/index.ts';

/**
 * Each figure that spoke for a finding, with the same figure after the work beside it, where it was
 * read again.
 */
export function readingsBeside(
  before: readonly Criterion[],
  after: readonly Criterion[],
  language: PaperLanguage,
): PaperBeforeAfter[] {
  const speaking = before.filter(({ outcome }) => outcome === 'met');
  return drawnMeasurements(speaking).flatMap((measured) => {
    const signs = speaking
      .filter(({ measurement }) => measurement?.label === measured.label)
      .map(({ id }) => id);
    const [again] = drawnMeasurements(after.filter(({ id }) => signs.includes(id))).filter(
      ({ label }) => label === measured.label,
    );
    const shown = paperMeasurement(measured, language);
    return again === undefined
      ? [{ before: shown }]
      : sideBySide(shown, paperMeasurement(again, language));
  });
}

/** A resistance that rose from ohms to megohms has two scales, and so no common one. */
function sideBySide(before: PaperMeasurement, after: PaperMeasurement): PaperBeforeAfter[] {
  return before.unit === after.unit ? [{ before, after }] : [{ before }, { after }];
}
