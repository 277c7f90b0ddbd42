import {
  faultCatalog,
  knownRefrigerant,
  type Nameplate,
  type Part,
  type PartCategory,
  partFits,
  type TaskCode,
} from '../../trade/index.ts';
import type { FairBook, FairPart } from './fair-book.ts';
import type { FiguresSaid } from './figures-said.ts';

/** What kinds of part a task takes, by the catalog. */
export function categoriesOf(task: TaskCode): PartCategory[] {
  const taken = faultCatalog
    .flatMap(({ remedies }) => remedies)
    .filter((remedy) => remedy.task === task)
    .flatMap(({ partCategories }) => partCategories);
  return [...new Set(taken)];
}

/**
 * The parts of one kind in the price book that may have gone in by what a bill says of it, the
 * dearest first. What the bill does not say excludes none.
 */
export function partsThatFit(
  category: PartCategory,
  task: TaskCode,
  figures: FiguresSaid,
  { partsOf }: FairBook,
): readonly FairPart[] {
  const parts = partsOf.get(category) ?? [];
  return parts.filter(({ fit }) => mayHaveGoneIn(fit, task, figures));
}

function mayHaveGoneIn(part: Part, task: TaskCode, figures: FiguresSaid): boolean {
  const { amps, poles, tons, refrigerant } = figures;
  switch (part.category) {
    case 'dual_run_capacitor':
    case 'run_capacitor':
      return partFits(plateOf(part, figures), task, part).fits;
    case 'contactor':
      return part.specs.ampsMax >= (amps ?? 0) && part.specs.poles >= (poles ?? 0);
    case 'control_fuse':
      return amps === undefined || part.specs.amps === amps;
    case 'refrigerant':
      return isCalled(part.specs.refrigerant, refrigerant);
    case 'outdoor_unit':
      return (
        isCalled(part.specs.refrigerant, refrigerant) &&
        part.specs.tons === (tons ?? part.specs.tons)
      );
    default:
      return true;
  }
}

/** The nameplate that a bill tells of; what it leaves open is as the part has it. */
function plateOf(
  part: Extract<Part, { category: 'dual_run_capacitor' | 'run_capacitor' }>,
  { hermUf, fanUf, microfarads, volts }: FiguresSaid,
): Nameplate {
  const capacitorVolts = volts ?? part.specs.voltsMax;
  if (part.category === 'dual_run_capacitor') {
    const { specs } = part;
    return {
      capacitorHermUf: hermUf ?? specs.hermUf,
      capacitorFanUf: fanUf ?? specs.fanUf,
      capacitorVolts,
    };
  }
  const rated = microfarads ?? part.specs.microfarads;
  return {
    capacitorHermUf: rated,
    capacitorFanUf: rated,
    capacitorBlowerUf: rated,
    capacitorVolts,
  };
}

function isCalled(refrigerant: string, said: string | undefined): boolean {
  return said === undefined || knownRefrigerant(refrigerant) === knownRefrigerant(said);
}
