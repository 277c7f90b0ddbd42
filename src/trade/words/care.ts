import type { CheckWords } from './checks/check.ts';

/** What each kind of check puts the technician's hands into. */
export const careWords: Record<CheckWords['care'], string> = {
  look: 'Nothing is opened under voltage.',
  power_off: 'Done behind a locked disconnect, with no voltage left.',
  live: 'Measured under voltage.',
  gauges: 'Opens the refrigerant circuit to gauges; asks for the certificate.',
};
