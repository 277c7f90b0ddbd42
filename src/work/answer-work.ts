import type { z } from 'zod';
import { dayText } from '../platform/calendar-day.ts';
import type {
  PartLeftOver,
  PartUse,
  RefrigerantMove,
  WorkOutcome,
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
export function outcomeBody(row: WorkOutcome): z.input<typeof workOutcomeSchema> {
  return {
    ...row,
    outcome: outcomeSchema.parse(row.outcome),
    laborWarrantyUntil: row.laborWarrantyUntil && dayText(row.laborWarrantyUntil),
    recordedAt: row.recordedAt.toISOString(),
  };
}

/** A part that was used, as an answer shows it. */
export function partUseBody(row: PartUse): z.input<typeof partUseSchema> {
  return {
    ...row,
    measured: row.measured?.toFixed() ?? null,
    oldPart: oldPartSchema.parse(row.oldPart),
    recordedAt: row.recordedAt.toISOString(),
  };
}

/** A part that stayed over, as an answer shows it. */
export function partLeftOverBody(row: PartLeftOver): z.input<typeof partLeftOverSchema> {
  return {
    ...row,
    measured: row.measured?.toFixed() ?? null,
    recordedAt: row.recordedAt.toISOString(),
  };
}

/** Refrigerant that was moved, as an answer shows it. */
export function refrigerantMoveBody(row: RefrigerantMove): z.input<typeof refrigerantMoveSchema> {
  return {
    ...row,
    direction: directionSchema.parse(row.direction),
    beforeOz: row.beforeOz.toFixed(),
    afterOz: row.afterOz.toFixed(),
    movedOz: movedOz(row).toFixed(),
    movedAt: row.movedAt.toISOString(),
    recordedAt: row.recordedAt.toISOString(),
  };
}
