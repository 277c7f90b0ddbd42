import { readFileSync } from 'node:fs';
import {
  type RefrigerantCode,
  refrigerantCodeSchema,
} from '../../../src/trade/refrigerant/refrigerants.ts';

export type ReferencePoint = {
  refrigerant: RefrigerantCode;
  degF: number;
  bubblePsig: number;
  dewPsig: number;
};

/** The reference points of saturation; their origin is told in reference/README.md. */
export const referencePoints: readonly ReferencePoint[] = readFileSync(
  new URL('reference/saturation.csv', import.meta.url),
  'utf8',
)
  .trim()
  .split('\n')
  .slice(1)
  .map((line) => {
    const [refrigerant, degF, bubblePsig, dewPsig] = line.split(',');
    return {
      refrigerant: refrigerantCodeSchema.parse(refrigerant),
      degF: Number(degF),
      bubblePsig: Number(bubblePsig),
      dewPsig: Number(dewPsig),
    };
  });
