import { z } from 'zod';
import {
  answerSchema,
  checkCodeSchema,
  criterionSchema,
  equipmentKindSchema,
  faultCodeSchema,
  gaugeUnitSchema,
  methodCodeSchema,
  observationCodeSchema,
  partCategorySchema,
  partOfSystemSchema,
  phaseSchema,
  pointCodeSchema,
  quantitySchema,
  remedyClassSchema,
  taskCodeSchema,
  unitSchema,
} from '../trade/index.ts';
import { photoSubjects } from './photo-subjects.ts';

const side = z.enum(['outdoor', 'indoor', 'any']);

/** What a check puts the technician's hands into. */
export const careSchema = z.enum(['look', 'power_off', 'live', 'gauges']);

/** A thing that is done once it is on record: an observation with one of its answers, or a reading. */
const lookedAtSchema = z.union([
  z.strictObject({ observation: observationCodeSchema, answers: z.array(answerSchema) }),
  z.strictObject({ point: pointCodeSchema, quantity: quantitySchema }),
]);

export const faultEntrySchema = z.strictObject({
  code: faultCodeSchema,
  name: z.string(),
  explanation: z.string().meta({ description: 'For the customer, a person without training.' }),
  partOfSystem: partOfSystemSchema,
  kinds: z.array(equipmentKindSchema).meta({ description: 'Where it can be found.' }),
  role: z.enum(['cause', 'symptom']),
  notTheCause: z.string().nullable().meta({ description: 'Said of every symptom.' }),
  causeSearch: z
    .strictObject({ lookFor: z.string(), recordedBy: z.array(lookedAtSchema) })
    .nullable()
    .meta({ description: 'The search that is due behind a symptom.' }),
  dear: z.boolean().meta({
    description: 'Mended with a dear part: sold on proof only, its exclusions done.',
  }),
  cautions: z.array(z.string()),
  exclusions: z
    .array(z.strictObject({ statement: z.string(), doneWhen: z.array(lookedAtSchema) }))
    .meta({ description: 'What must be looked at before it may be blamed; any of `doneWhen`.' }),
  callsPerThousand: z.number().meta({
    description: 'Of a thousand no-cooling calls it is behind so many: common practice, no source.',
  }),
  criteria: z
    .array(criterionSchema.pick({ id: true, statement: true, direction: true, weight: true }))
    .meta({
      description:
        'The signs for and against it that the rules in force weigh. Some are of machines with ' +
        'one kind of fan motor or metering device alone, and may then be said or weighed in two ' +
        'ways under one id.',
    }),
  remedies: z.array(
    z.strictObject({
      task: taskCodeSchema,
      taskName: z.string(),
      remedyClass: remedyClassSchema,
      needs: z.enum(['supported', 'proven']),
      partCategories: z.array(partCategorySchema),
      kinds: z.array(equipmentKindSchema).meta({ description: 'The machines it is done on.' }),
    }),
  ),
});

const unitWordsSchema = z.strictObject({
  code: gaugeUnitSchema,
  printed: z.string(),
  written: z.array(z.string()).meta({ description: 'Every way to type it.' }),
});

const quantityWordsSchema = z.strictObject({
  code: quantitySchema,
  unit: unitSchema.meta({ description: 'The one it is kept in.' }),
  units: z.array(unitWordsSchema).meta({ description: 'Those it may be typed in.' }),
});

const pointWordsSchema = z.strictObject({
  code: pointCodeSchema,
  name: z.string(),
  on: side,
  scope: z.enum(['machine', 'system']).meta({
    description: '`system`: it tells of the whole system, whichever machine it was noted on.',
  }),
  ranges: z.array(
    z.strictObject({
      quantity: quantitySchema,
      low: z.number(),
      high: z.number(),
      usualLow: z.number(),
      usualHigh: z.number(),
    }),
  ),
});

const methodWordsSchema = z.strictObject({
  code: methodCodeSchema,
  name: z.string(),
  measures: z.array(
    z.strictObject({
      quantity: quantitySchema,
      percentOfReading: z.number(),
      counts: z.number().meta({ description: 'Of the last digit of the display.' }),
      ranges: z.array(z.strictObject({ upTo: z.number(), resolution: z.number() })),
    }),
  ),
});

const observationWordsSchema = z.strictObject({
  code: observationCodeSchema,
  statement: z.string().meta({ description: 'What a yes says.' }),
  by: z.enum(['anyone', 'technician']),
  about: z.enum(['machine', 'system', 'house']),
  on: side,
  visitDue: z.boolean().meta({ description: 'A yes by phone always ends with a visit.' }),
  excludes: observationCodeSchema.nullable().meta({
    description: 'What cannot be so on the same machine at the same moment.',
  }),
});

const checkWordsSchema = z.strictObject({
  code: checkCodeSchema,
  ask: z.string(),
  minutes: z.number(),
  care: careSchema,
  on: side,
  observations: z.array(observationCodeSchema),
  readings: z.array(z.string()).meta({ description: 'Each as point.quantity.' }),
});

const taskWordsSchema = z.strictObject({
  code: taskCodeSchema,
  name: z.string(),
  restores: z.boolean().meta({ description: 'It only puts back what tripped or ran empty.' }),
  handlesRefrigerant: z.boolean().meta({ description: 'It asks for the certificate.' }),
  installsEquipment: z.boolean().meta({
    description: 'A new machine: offered beside the repair alone, and confirmed by the owner.',
  }),
  covers: z.array(taskCodeSchema).meta({ description: 'Tasks that are done with it.' }),
});

export const vocabularySchema = z.strictObject({
  quantities: z.array(quantityWordsSchema),
  points: z.array(pointWordsSchema),
  methods: z.array(methodWordsSchema),
  observations: z.array(observationWordsSchema),
  checks: z.array(checkWordsSchema),
  tasks: z.array(taskWordsSchema),
  partCategories: z.array(partCategorySchema),
  cares: z.array(meaningOf(careSchema)),
  phases: z.array(meaningOf(phaseSchema)),
  photoSubjects: z.array(meaningOf(z.enum(photoSubjects))),
});

function meaningOf<Code extends z.ZodType>(code: Code) {
  return z.strictObject({ code, meaning: z.string() });
}
