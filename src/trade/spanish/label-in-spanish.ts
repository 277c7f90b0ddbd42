import { measuredLabels } from '../words/measured-labels.ts';
import { measuredLabelsInSpanish } from './measured-labels.ts';

/** The Spanish name of a drawn figure; a name that no rule gives any more is a measurement. */
export function labelInSpanish(label: string): string {
  const known = measuredLabels.find((each) => each === label);
  return known === undefined ? 'Medición' : measuredLabelsInSpanish[known];
}
