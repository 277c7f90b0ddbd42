import { z } from 'zod';
import { code, day, instant, text, version } from '../platform/http/formats.ts';
import { bookAgreementSchema } from '../pricebook/index.ts';
import { agreementSchema } from '../pricing/index.ts';

const endsOn = day.meta({ description: 'The first day it no longer holds.' });

export const agreementPlansSchema = z.strictObject({ items: z.array(bookAgreementSchema) });

export const newAgreementSchema = z
  .strictObject({
    planCode: code.meta({ description: 'A plan of the price book in force.' }),
    startsOn: day.meta({ description: 'The first day it holds, on the company’s calendar.' }),
    endsOn,
    agreedByName: text(200).meta({ description: 'Who said yes to it for the site.' }),
  })
  .refine((agreement) => agreement.endsOn > agreement.startsOn, {
    path: ['endsOn'],
    error: 'must be after startsOn',
  });

export const agreementEndSchema = z.strictObject({ endsOn });

export const siteAgreementSchema = z.strictObject({
  id: z.uuid(),
  siteId: z.uuid(),
  planCode: z.string(),
  plan: agreementSchema.meta({
    description: 'The plan as it was agreed to; a later book takes nothing of it away.',
  }),
  startsOn: day,
  endsOn,
  agreedByName: z.string(),
  version,
  createdAt: instant,
});
