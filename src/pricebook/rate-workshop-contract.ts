import { z } from 'zod';
import { cents, signedCents } from '../platform/http/formats.ts';
import { figureUnits } from '../pricing/index.ts';

const figureSchema = z
  .strictObject({
    decimal: z.string().regex(/^-?\d+(\.\d+)?$/),
    unit: z.enum(figureUnits),
    isRounded: z.boolean().meta({ description: 'More digits would follow.' }),
  })
  .meta({ description: 'A number that is no price: decimal text with its unit.' });

const beforeAndAfterSchema = z.strictObject({
  before: cents,
  after: cents,
  difference: signedCents.meta({ description: 'Negative when it gets cheaper.' }),
});

export const rateWorkshopSchema = z.strictObject({
  wage: z
    .strictObject({
      wages: figureSchema,
      burden: z.array(z.strictObject({ name: z.string(), perYear: figureSchema })).readonly(),
      burdenOnWages: figureSchema.nullable().meta({
        description: 'Everything on top of the wages, as a share of them; null without wages.',
      }),
      costPerPaidHour: figureSchema,
    })
    .nullable()
    .meta({ description: 'Null where the wage is one sum, which cannot be taken apart.' }),
  burdenedWage: figureSchema,
  billableHours: figureSchema.meta({ description: 'Per technician.' }),
  costPerHour: z
    .strictObject({
      wage: figureSchema,
      truck: figureSchema,
      overhead: figureSchema,
      total: figureSchema,
    })
    .meta({ description: 'Per billable hour.' }),
  laborRateCents: cents,
  equalMarkup: figureSchema.meta({
    description: 'What is put on the cost to leave this margin on the price.',
  }),
  marginTakenForMarkup: z
    .strictObject({ rateCents: cents, marginLeft: figureSchema })
    .meta({ description: 'A warning: the rate if the margin were put on the cost by mistake.' }),
  breakEvenHours: figureSchema.nullable().meta({
    description: 'Billed hours a year that pay for a technician, truck and share of the overhead.',
  }),
  inForce: z
    .strictObject({
      priceBookNumber: z.int().min(1),
      laborRateCents: beforeAndAfterSchema,
      oneHourCents: beforeAndAfterSchema,
      halfAnHourCents: beforeAndAfterSchema,
    })
    .nullable()
    .meta({ description: 'The price book in force beside it; null when there is none.' }),
});
