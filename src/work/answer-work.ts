import type { z } from 'zod';
import { dayText } from '../platform/calendar-day.ts';
import type {
  PartLeftOver,
  PartUse,
  RefrigerantMove,
  WorkOutcome,
  WorkStrike,
} from '../platform/database/generated/client.ts';
import {
  directionSchema,
  oldPartSchema,
  outcomeSchema,
  type partLeftOverSchema,
  type partUseSchema,
  type refrigerantMoveSchema,
  type workOutcomeSchema,
} from './contract.ts';
import { movedOz } from './move-refrigerant.ts';

/** An outcome as an answer shows it. */
export function outcomeBody(
  row: WorkOutcome,
  strike: WorkStrike | null,
): z.input<typeof workOutcomeSchema> {
  return {
    ...row,
    struck: strike && struckBody(strike),
    outcome: outcomeSchema.parse(row.outcome),
    laborWarrantyUntil: row.laborWarrantyUntil && dayText(row.laborWarrantyUntil),
    recordedAt: row.recordedAt.toISOString(),
  };
}

/** A part that was used, as an answer shows it. */
export function partUseBody(
  { stockMoveId: _, ...row }: PartUse,
  strike: WorkStrike | null,
): z.input<typeof partUseSchema> {
  return {
    ...row,
    struck: strike && struckBody(strike),
    measured: row.measured?.toFixed() ?? null,
    oldPart: oldPartSchema.parse(row.oldPart),
    recordedAt: row.recordedAt.toISOString(),
  };
}

/** A part that stayed over, as an answer shows it. */
export function partLeftOverBody(
  row: PartLeftOver,
  strike: WorkStrike | null,
): z.input<typeof partLeftOverSchema> {
  return {
    ...row,
    struck: strike && struckBody(strike),
    measured: row.measured?.toFixed() ?? null,
    recordedAt: row.recordedAt.toISOString(),
  };
}

/** Refrigerant that was moved, as an answer shows it. */
export function refrigerantMoveBody(
  row: RefrigerantMove,
  strike: WorkStrike | null,
): z.input<typeof refrigerantMoveSchema> {
  return {
    ...row,
    struck: strike && struckBody(strike),
    direction: directionSchema.parse(row.direction),
    beforeOz: row.beforeOz.toFixed(),
    afterOz: row.afterOz.toFixed(),
    movedOz: movedOz(row).toFixed(),
    movedAt: row.movedAt.toISOString(),
    recordedAt: row.recordedAt.toISOString(),
  };
}

function struckBody({ reason, struckAt, struckById }: WorkStrike) {
  return { reason, struckAt: struckAt.toISOString(), struckById };
}
