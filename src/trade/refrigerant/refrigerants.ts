import { z } from 'zod';

/** The refrigerants whose saturation we know. Any other is named on a nameplate but not judged. */
export const refrigerantCodeSchema = z.enum([
  'R-22',
  'R-32',
  'R-134a',
  'R-407C',
  'R-410A',
  'R-454B',
]);
export type RefrigerantCode = z.infer<typeof refrigerantCodeSchema>;

/**
 * `safetyGroup`: A1 does not spread flame, A2L burns slowly; from memory of ASHRAE Standard 34.
 * `glide`: how far dew lies above bubble at one pressure; slight is below half a degree and marked
 * is above two, computed from our saturation table. A marked glide makes the wrong line a wrong job.
 */
export type Refrigerant = {
  safetyGroup: 'A1' | 'A2L';
  makeup: 'single' | 'blend';
  glide: 'none' | 'slight' | 'marked';
  depletesOzone: boolean;
  composition: string;
};

/** Composition by mass, from memory of ASHRAE Standard 34. */
export const refrigerants: Record<RefrigerantCode, Refrigerant> = {
  'R-22': {
    safetyGroup: 'A1',
    makeup: 'single',
    glide: 'none',
    depletesOzone: true,
    composition: 'chlorodifluoromethane, one substance',
  },
  'R-32': {
    safetyGroup: 'A2L',
    makeup: 'single',
    glide: 'none',
    depletesOzone: false,
    composition: 'difluoromethane, one substance',
  },
  'R-134a': {
    safetyGroup: 'A1',
    makeup: 'single',
    glide: 'none',
    depletesOzone: false,
    composition: '1,1,1,2-tetrafluoroethane, one substance',
  },
  'R-407C': {
    safetyGroup: 'A1',
    makeup: 'blend',
    glide: 'marked',
    depletesOzone: false,
    composition: '23 % R-32, 25 % R-125, 52 % R-134a by mass',
  },
  'R-410A': {
    safetyGroup: 'A1',
    makeup: 'blend',
    glide: 'slight',
    depletesOzone: false,
    composition: '50 % R-32, 50 % R-125 by mass',
  },
  'R-454B': {
    safetyGroup: 'A2L',
    makeup: 'blend',
    glide: 'marked',
    depletesOzone: false,
    composition: '68.9 % R-32, 31.1 % R-1234yf by mass',
  },
};
