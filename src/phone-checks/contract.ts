import { z } from 'zod';
import {
  factCodeSchema,
  phoneScriptVersionSchema,
  scriptLanguageSchema,
} from '../phone-script/index.ts';
import { code, instant, text, version } from '../platform/http/formats.ts';

export const newPhoneCheckSchema = z.strictObject({
  language: scriptLanguageSchema.optional().meta({ description: 'The caller’s own when absent.' }),
});

/** One answer to one question: exactly one of the three, as the question asks. */
export const newPhoneAnswerSchema = z
  .strictObject({
    questionCode: code,
    answer: code
      .optional()
      .meta({ description: '`yes`, `no`, the code of a choice, `none`, or `unknown`.' }),
    answers: z
      .array(code)
      .min(1)
      .max(20)
      .optional()
      .meta({ description: 'Where several choices may hold.' }),
    value: z.number().optional().meta({ description: 'In the unit of the question.' }),
    note: text(500).optional().meta({ description: 'What else was said, in the caller’s words.' }),
  })
  .refine(
    ({ answer, answers, value }) =>
      [answer, answers, value].filter((each) => each !== undefined).length === 1,
    { error: 'needs exactly one of answer, answers and value' },
  );

const endNote = text(500).meta({ description: 'Who hung up, and what was agreed.' });

export const phoneCheckEndSchema = z.discriminatedUnion(
  'outcome',
  [
    z.strictObject({
      outcome: z.literal('solved'),
      whatHelped: text(1_000).meta({ description: 'Closes the ticket, at no charge.' }),
    }),
    z.strictObject({ outcome: z.literal('not_solved'), note: endNote.optional() }),
    z.strictObject({ outcome: z.literal('broken_off'), note: endNote.optional() }),
  ],
  { error: 'must be one of solved, not_solved, broken_off' },
);

export const dangerOverSchema = z.strictObject({
  note: text(1_000).meta({ description: 'How we know: who said so, and what was done.' }),
});

const answerChoiceSchema = z.strictObject({ code: z.string(), text: z.string() });

const questionSchema = z.strictObject({
  code: z.string(),
  text: z.string().meta({ description: 'Read aloud, in the language of the dialogue.' }),
  help: z.string().nullable(),
  asks: z.enum(['yes_no', 'choice', 'choices', 'number']).meta({
    description: '`choices`: several may hold, or `none`. `unknown` answers every question.',
  }),
  choices: z.array(answerChoiceSchema),
  unit: z.enum(['[degF]', '%']).nullable(),
  min: z.number().nullable(),
  max: z.number().nullable(),
  resetsBreaker: z.boolean(),
});

const askSchema = z.strictObject({ kind: z.literal('ask'), question: questionSchema });

const dangerSchema = z.strictObject({
  kind: z.literal('danger'),
  code: z.string(),
  text: z
    .string()
    .meta({ description: 'The instruction. Read it aloud; nothing is asked after it.' }),
  callFirst: z.enum(['911', '911_if_worse']),
});

const doneSchema = z.strictObject({
  kind: z.literal('done'),
  code: z.string(),
  outcome: z.enum(['solved', 'not_solved']).meta({ description: 'What the dialogue came to.' }),
  text: z.string(),
});

export const phoneCheckSchema = z.strictObject({
  id: z.uuid(),
  ticketId: z.uuid(),
  run: z.int().min(1),
  scriptVersion: phoneScriptVersionSchema,
  language: scriptLanguageSchema,
  known: z.array(factCodeSchema).meta({
    description:
      'What the records said at its start, and `reset_before` from when a breaker of the site was ' +
      'reset by phone, or tripped again, in other phone checks.',
  }),
  startedAt: instant,
  answers: z.array(
    z.strictObject({
      sequence: z.int().min(1),
      questionCode: z.string(),
      questionText: z.string(),
      answer: z.string(),
      answerText: z.string(),
      value: z.number().nullable(),
      note: z.string().nullable(),
      answeredAt: instant,
      counts: z.boolean().meta({
        description: 'False for what was corrected, or is not on the way any more.',
      }),
    }),
  ),
  next: z
    .discriminatedUnion('kind', [askSchema, dangerSchema, doneSchema])
    .nullable()
    .meta({
      description:
        'Null where nothing more is asked or said: broken off, solved in the middle, or its danger ' +
        'is over.',
    }),
  dangerQuestions: z.array(questionSchema).meta({
    description:
      'While it is open: whoever cries of danger is heard at once. An answer in danger to one of ' +
      'these is taken at any time, before its turn too.',
  }),
  outcome: z.enum(['danger', 'solved', 'not_solved', 'broken_off']).nullable(),
  endedAt: instant.nullable(),
  endNote: z.string().nullable().meta({ description: 'Who hung up, and what was agreed.' }),
  danger: z
    .strictObject({
      code: z.string(),
      overAt: instant.nullable().meta({ description: 'Nobody is sent before.' }),
      overNote: z.string().nullable(),
    })
    .nullable(),
});

export const phoneChecksSchema = z.strictObject({
  ticketId: z.uuid(),
  openDanger: z.string().nullable().meta({ description: 'What stopped it, and is not over.' }),
  checks: z.array(phoneCheckSchema).meta({ description: 'The latest first.' }),
});

export const callBackResultSchema = z.strictObject({
  outcome: z.enum(['still_fine', 'back_again', 'not_reached']).meta({
    description: '`back_again` opens a new ticket; after `not_reached` it stays due.',
  }),
  note: text(1_000).optional(),
});

export const callBackSchema = z.strictObject({
  id: z.uuid(),
  ticketId: z.uuid(),
  ticketNumber: z.int(),
  siteId: z.uuid(),
  callerId: z.uuid(),
  callerName: z.string(),
  callerPhone: z.string(),
  callerLanguage: scriptLanguageSchema,
  complaint: z.string(),
  whatHelped: z.string().nullable(),
  dueAt: instant,
  tries: z.int().min(0).meta({ description: 'How often nobody was reached.' }),
  outcome: z.enum(['still_fine', 'back_again']).nullable(),
  note: z.string().nullable(),
  madeAt: instant.nullable(),
  nextTicketId: z.uuid().nullable(),
  version,
});
