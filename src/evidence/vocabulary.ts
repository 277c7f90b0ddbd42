import type { z } from 'zod';
import {
  checkCodeSchema,
  checkWords,
  coveredBy,
  handlesRefrigerant,
  methodAccuracy,
  methodCodeSchema,
  methodWords,
  observationCodeSchema,
  observationWords,
  partCategorySchema,
  pointCodeSchema,
  pointRange,
  pointWords,
  printedUnit,
  type Quantity,
  quantitySchema,
  taskCodeSchema,
  taskWords,
  unitOfQuantity,
  unitsOf,
  waysToWrite,
} from '../trade/index.ts';
import type { vocabularySchema } from './catalog-contract.ts';

type Vocabulary = z.input<typeof vocabularySchema>;

/** Every word that evidence is made of, from the tables of the trade: a client needs no copy. */
export function vocabulary(): Vocabulary {
  return {
    quantities: quantitySchema.options.map(describeQuantity),
    points: pointCodeSchema.options.map((code) => {
      const { name, on, scope } = pointWords[code];
      return { code, name, on, scope, ranges: forQuantities((each) => pointRange(code, each)) };
    }),
    methods: methodCodeSchema.options.map((code) => ({
      code,
      name: methodWords[code].name,
      measures: forQuantities((each) => methodAccuracy(code, each)).map((accuracy) => ({
        ...accuracy,
        ranges: [...accuracy.ranges],
      })),
    })),
    observations: observationCodeSchema.options.map((code) => {
      const { statement, by, about, on, visitDue = false } = observationWords[code];
      return { code, statement, by, about, on, visitDue };
    }),
    checks: checkCodeSchema.options.map((code) => {
      const { ask, minutes, care, on, observations, readings } = checkWords[code];
      return {
        code,
        ask,
        minutes,
        care,
        on,
        observations: [...observations],
        readings: [...readings],
      };
    }),
    tasks: taskCodeSchema.options.map((code) => ({
      code,
      name: taskWords[code].name,
      restores: taskWords[code].restores,
      handlesRefrigerant: handlesRefrigerant(code),
      covers: coveredBy(code).map((each) => taskCodeSchema.parse(each)),
    })),
    partCategories: [...partCategorySchema.options],
  };
}

function describeQuantity(code: Quantity): Vocabulary['quantities'][number] {
  return {
    code,
    unit: unitOfQuantity[code],
    units: unitsOf(code).map((unit) => ({
      code: unit,
      printed: printedUnit[unit],
      written: waysToWrite(unit),
    })),
  };
}

/** What is said of each quantity, where anything is. */
function forQuantities<Words extends object>(
  wordsOf: (quantity: Quantity) => Words | undefined,
): (Words & { quantity: Quantity })[] {
  return quantitySchema.options.flatMap((quantity) => {
    const words = wordsOf(quantity);
    return words === undefined ? [] : [{ quantity, ...words }];
  });
}
