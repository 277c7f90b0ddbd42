import { z } from 'zod';
import { consumerRuleSchema, textNames, unknownNames } from '../consumer-law/index.ts';
import { code, day, instant, text } from '../platform/http/formats.ts';

const names = textNames.map((name) => `{${name}}`).join(', ');

const content = consumerRuleSchema.meta({
  description: `Texts may name the company’s own facts: ${names}.`,
});

export const newConsumerRuleSchema = z
  .strictObject({
    jurisdiction: code,
    code: code.meta({
      description: 'Which rule it is; a jurisdiction has one of a code on a day.',
    }),
    effectiveFrom: day,
    effectiveTo: day.optional().meta({ description: 'The first day it no longer holds.' }),
    content,
  })
  .refine(
    ({ effectiveFrom, effectiveTo }) => effectiveTo === undefined || effectiveTo > effectiveFrom,
    { path: ['effectiveTo'], error: 'must be after effectiveFrom' },
  )
  .superRefine((rule, context) => {
    for (const language of ['en', 'es'] as const) {
      for (const name of unknownNames(rule.content.text[language])) {
        context.addIssue({
          code: 'custom',
          path: ['content', 'text', language],
          message: `names {${name}}, which is none of ${names}`,
        });
      }
    }
  });

export const consumerRuleEndSchema = z.strictObject({
  effectiveTo: day.meta({ description: 'The first day it no longer holds.' }),
});

export const consumerRuleConfirmationSchema = z.strictObject({
  confirmedBy: text(200).meta({ description: 'The counsel who has confirmed it.' }),
});

export const consumerRuleAnswerSchema = z.strictObject({
  id: z.uuid(),
  jurisdiction: z.string(),
  code: z.string(),
  effectiveFrom: day,
  effectiveTo: day.nullable(),
  content: consumerRuleSchema,
  standing: z.enum(['to_be_confirmed_by_counsel', 'confirmed_by_counsel']),
  confirmedBy: z.string().nullable(),
  createdAt: instant,
});
