import { combineInQuadrature } from '../uncertainty/combine-in-quadrature.ts';
import { type Measured, measuredFrom, readingsAt } from './measured.ts';
import { nearestInTime } from './nearest-in-time.ts';
import { remembered } from './remembered-for.ts';

/** How far the head pressure was above the suction pressure, and when both had been read. */
export type PressureLift = { atMs: number; measured: Measured };

/** Every head pressure with the suction pressure read in the same minutes, in order of time. */
export const pressureLifts = remembered((facts): readonly PressureLift[] => {
  const suctions = readingsAt(facts, 'suction_port', 'gauge_pressure');
  return readingsAt(facts, 'liquid_port', 'gauge_pressure').flatMap((head): PressureLift[] => {
    const suction = nearestInTime(head, suctions);
    if (suction === undefined) return [];
    return [
      {
        atMs: Math.max(Date.parse(head.takenAt), Date.parse(suction.takenAt)),
        measured: liftOf(measuredFrom(head), measuredFrom(suction)),
      },
    ];
  });
});

/** The head pressure less the suction pressure. */
export function liftOf(head: Measured, suction: Measured): Measured {
  return {
    ...head,
    value: head.value - suction.value,
    uncertainty: combineInQuadrature(head.uncertainty, suction.uncertainty),
    readingIds: [...suction.readingIds, ...head.readingIds],
  };
}
