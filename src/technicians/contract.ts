import { z } from 'zod';
import { day, instant, text, version } from '../platform/http/formats.ts';
import { placeSchema } from '../sites/index.ts';

const MINUTES_A_DAY = 1_440;

/** What a technician can work on. Who may handle refrigerant the certificate on record says. */
export const skillSchema = z.enum([
  'cooling',
  'heat_pump',
  'gas_heat',
  'oil_heat',
  'electric_heat',
  'ductless',
  'controls',
]);
export type Skill = z.infer<typeof skillSchema>;

export const absenceWhySchema = z.enum(['day_off', 'sick', 'training', 'other_hours', 'on_call']);
export type AbsenceWhy = z.infer<typeof absenceWhySchema>;

const hoursOfDay = {
  startMinute: z
    .int()
    .min(0)
    .max(MINUTES_A_DAY - 1),
  endMinute: z
    .int()
    .min(1)
    .max(2 * MINUTES_A_DAY)
    .meta({
      description: 'Above 1440 it is on the next day; the hours belong to the day they start on.',
    }),
};
const endsAfterStart = {
  path: ['endMinute'],
  error: 'must be after startMinute, by a day at most',
};

/** Hours of work on a weekday, in minutes of the company's clock after midnight; 1 is Monday. */
export const weekHoursSchema = z
  .array(
    z
      .strictObject({ weekday: z.int().min(1).max(7), ...hoursOfDay })
      .refine(runsForward, endsAfterStart),
  )
  .max(28)
  .refine((hours) => areApart(hours.map(inWeek), 7 * MINUTES_A_DAY), {
    error: 'holds hours that overlap',
  });
export type WeekHours = z.output<typeof weekHoursSchema>;

/** Hours of every day of an absence. */
export const dayHoursSchema = z
  .array(z.strictObject(hoursOfDay).refine(runsForward, endsAfterStart))
  .max(4)
  .refine((hours) => areApart(hours, MINUTES_A_DAY), { error: 'holds hours that overlap' });
export type DayHours = z.output<typeof dayHoursSchema>;

interface Minutes {
  startMinute: number;
  endMinute: number;
}

function runsForward({ startMinute, endMinute }: Minutes): boolean {
  return endMinute > startMinute && endMinute - startMinute <= MINUTES_A_DAY;
}

function inWeek({ weekday, startMinute, endMinute }: Minutes & { weekday: number }): Minutes {
  const begin = (weekday - 1) * MINUTES_A_DAY;
  return { startMinute: begin + startMinute, endMinute: begin + endMinute };
}

/** Whether hours that come again after `every` minutes never overlap, at the turn of it neither. */
function areApart(hours: readonly Minutes[], every: number): boolean {
  const sorted = [...hours].sort((one, other) => one.startMinute - other.startMinute);
  return sorted.every(({ endMinute }, index) => {
    const next = sorted[index + 1];
    const nextStart = next?.startMinute ?? (sorted[0]?.startMinute ?? 0) + every;
    return endMinute <= nextStart;
  });
}

const skills = z
  .array(skillSchema)
  .max(skillSchema.options.length)
  .transform((all) => [...new Set(all)].sort());

/** Absent leaves a field as it is; null takes the base away. */
export const technicianChangeSchema = z.strictObject({
  base: placeSchema.nullable().optional().meta({
    description: 'Where the truck sets out; the company’s when null.',
  }),
  skills: skills.optional(),
});

export const newWorkWeekSchema = z.strictObject({
  validFrom: day.meta({
    description: 'The first day it holds; the latest recorded of a day wins.',
  }),
  hours: weekHoursSchema,
});

const DAYS_MAX = 366;
const daysForward = { path: ['lastDay'], error: 'must not be before firstDay' };
const daysTooMany = { path: ['lastDay'], error: 'must be within a year of firstDay' };
const days = {
  firstDay: day,
  lastDay: day.meta({ description: 'The last day of it, which it still holds on.' }),
};

interface Days {
  firstDay: string;
  lastDay: string;
}

function isForward({ firstDay, lastDay }: Days): boolean {
  return lastDay >= firstDay;
}

function isShort({ firstDay, lastDay }: Days): boolean {
  return (Date.parse(lastDay) - Date.parse(firstDay)) / 86_400_000 < DAYS_MAX;
}

export const newAbsenceSchema = z
  .strictObject({
    ...days,
    why: absenceWhySchema.meta({
      description: 'On call comes beside the hours of the week, the others take their place.',
    }),
    hours: dayHoursSchema.default([]).meta({
      description: 'What is worked, or on call, on each of the days; nothing when absent.',
    }),
  })
  .refine(isForward, daysForward)
  .refine(isShort, daysTooMany)
  .refine(({ why, hours }) => !['other_hours', 'on_call'].includes(why) || hours.length > 0, {
    path: ['hours'],
    error: 'says which hours',
  });

export const newCertificateSchema = z
  .strictObject({
    kind: text(80).meta({ description: 'What it is, as it is called on it.' }),
    number: text(80),
    issuedOn: day,
    expiresOn: day.optional().meta({
      description: 'The first day it no longer holds; for good when absent.',
    }),
  })
  .refine(({ issuedOn, expiresOn }) => expiresOn === undefined || expiresOn > issuedOn, {
    path: ['expiresOn'],
    error: 'must be after issuedOn',
  });

export const newHelperSchema = z
  .strictObject({
    helperId: z.uuid().meta({ description: 'Of the technicians, who goes along.' }),
    ...days,
  })
  .refine(isForward, daysForward)
  .refine(isShort, daysTooMany);

const person = z.strictObject({ id: z.uuid(), name: z.string() });
const span = z.strictObject({ start: instant, end: instant });

export const absenceSchema = z.strictObject({
  id: z.uuid(),
  ...days,
  why: absenceWhySchema,
  hours: dayHoursSchema,
  withdrawnAt: instant.nullable(),
});

export const affectedVisitSchema = z.strictObject({
  visitId: z.uuid(),
  ticketId: z.uuid(),
  ticketNumber: z.int(),
  state: z.string(),
  windowStart: instant,
  windowEnd: instant,
  plannedStart: instant.nullable(),
  plannedEnd: instant.nullable(),
});

const affectedVisits = z.array(affectedVisitSchema).meta({
  description: 'What is booked with them then, and now has to be moved to another time or person.',
});

export const addedAbsenceSchema = z.strictObject({ ...absenceSchema.shape, affectedVisits });

export const workWeekSchema = z.strictObject({
  id: z.uuid(),
  validFrom: day,
  hours: weekHoursSchema,
});

export const addedWorkWeekSchema = z.strictObject({ ...workWeekSchema.shape, affectedVisits });

export const certificateSchema = z.strictObject({
  id: z.uuid(),
  kind: z.string(),
  number: z.string(),
  issuedOn: day,
  expiresOn: day.nullable(),
  withdrawnAt: instant.nullable(),
});

export const expiringCertificateSchema = z.strictObject({
  ...certificateSchema.shape,
  technician: person,
  expired: z.boolean(),
});

export const helperSchema = z.strictObject({
  id: z.uuid(),
  helper: person,
  technician: person,
  ...days,
  withdrawnAt: instant.nullable(),
});

export const addedHelperSchema = z.strictObject({ ...helperSchema.shape, affectedVisits });

export const profileSchema = z.strictObject({
  id: z.uuid(),
  name: z.string(),
  phone: z.string().nullable(),
  base: placeSchema.nullable(),
  skills: z.array(skillSchema),
  mayHandleRefrigerant: z.boolean().meta({
    description: 'By the Section 608 certificate on record.',
  }),
  version,
});

const technicianDaySchema = z.strictObject({
  day,
  hours: z.array(span).meta({ description: 'Which start on that day; they may end on the next.' }),
  onCall: z.array(span),
  absence: absenceSchema.pick({ id: true, why: true, lastDay: true }).nullable(),
  helpers: z.array(person),
  helps: person.nullable().meta({ description: 'Whom they go along with that day.' }),
});

export const technicianSchema = z.strictObject({
  ...profileSchema.shape,
  day: technicianDaySchema.meta({ description: 'The day asked for, today unless given.' }),
});

export const wholeTechnicianSchema = z.strictObject({
  ...technicianSchema.shape,
  workWeeks: z.array(workWeekSchema).meta({ description: 'What holds then, and what comes.' }),
  absences: z.array(absenceSchema).meta({ description: 'Not over then, nor taken back.' }),
  certificates: z.array(certificateSchema),
  helpers: z.array(helperSchema).meta({
    description: 'Who goes along with them, or they with whom.',
  }),
});
