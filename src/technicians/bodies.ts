import type { z } from 'zod';
import { dayText } from '../platform/calendar-day.ts';
import type {
  Certificate,
  HelperDays,
  WorkAbsence,
  WorkWeek,
} from '../platform/database/generated/client.ts';
import {
  type absenceSchema,
  absenceWhySchema,
  type certificateSchema,
  dayHoursSchema,
  type helperSchema,
  weekHoursSchema,
  type workWeekSchema,
} from './contract.ts';
import type { Pair } from './helpers-on.ts';

/** The hours of a week as they are shown. */
export function workWeekBody({ id, validFrom, hours }: WorkWeek): z.input<typeof workWeekSchema> {
  return { id, validFrom: dayText(validFrom), hours: weekHoursSchema.parse(hours) };
}

/** An absence as it is shown. */
export function absenceBody(absence: WorkAbsence): z.input<typeof absenceSchema> {
  return {
    id: absence.id,
    firstDay: dayText(absence.firstDay),
    lastDay: dayText(absence.lastDay),
    why: absenceWhySchema.parse(absence.why),
    hours: dayHoursSchema.parse(absence.hours),
    withdrawnAt: absence.withdrawnAt?.toISOString() ?? null,
  };
}

/** A certificate as it is shown. */
export function certificateBody(certificate: Certificate): z.input<typeof certificateSchema> {
  const { id, kind, number, issuedOn, expiresOn, withdrawnAt } = certificate;
  return {
    ...{ id, kind, number },
    issuedOn: dayText(issuedOn),
    expiresOn: expiresOn === null ? null : dayText(expiresOn),
    withdrawnAt: withdrawnAt?.toISOString() ?? null,
  };
}

/** Days of a helper as they are shown. */
export function helperBody(days: HelperDays & Pair): z.input<typeof helperSchema> {
  return {
    id: days.id,
    helper: days.helper,
    technician: days.technician,
    firstDay: dayText(days.firstDay),
    lastDay: dayText(days.lastDay),
    withdrawnAt: days.withdrawnAt?.toISOString() ?? null,
  };
}
