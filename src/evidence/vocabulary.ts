import type { z } from 'zod';
import {
  careWords,
  checkCodeSchema,
  checkWords,
  coveredBy,
  handlesRefrigerant,
  installsEquipment,
  methodAccuracy,
  methodCodeSchema,
  methodWords,
  observationCodeSchema,
  observationWords,
  partCategorySchema,
  phaseSchema,
  phaseWords,
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
import { careSchema, type vocabularySchema } from './catalog-contract.ts';
import { photoSubjects, photoSubjectWords } from './photo-subjects.ts';

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
      const {
        statement,
        by,
        about,
        on,
        visitDue = false,
        excludes = null,
      } = observationWords[code];
      return { code, statement, by, about, on, visitDue, excludes };
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
      installsEquipment: installsEquipment(code),
      covers: coveredBy(code).map((each) => taskCodeSchema.parse(each)),
    })),
    partCategories: [...partCategorySchema.options],
    cares: careSchema.options.map((code) => ({ code, meaning: careWords[code] })),
    phases: phaseSchema.options.map((code) => ({ code, meaning: phaseWords[code] })),
    photoSubjects: photoSubjects.map((code) => ({ code, meaning: photoSubjectWords[code] })),
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
