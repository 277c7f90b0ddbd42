import type { PaperFact, PaperLanguage, PaperSystem } from '../documents/index.ts';
import { nameplateOf } from '../equipment/index.ts';
import type { Prisma } from '../platform/database/generated/client.ts';
import { equipmentKindSchema, type Nameplate } from '../trade/index.ts';
import { type PaperWords, paperWords } from './paper-words.ts';

type Machine = Prisma.EquipmentGetPayload<{ include: { system: true } }>;

/** A machine as the paper names it, with the facts of its nameplate that a reader may want. */
export function paperSystem(machine: Machine, language: PaperLanguage = 'en'): PaperSystem {
  const words = paperWords[language];
  const kind = words.kindName(equipmentKindSchema.parse(machine.kind));
  const model = [machine.maker, machine.model].filter(Boolean).join(' ');
  return {
    name: words.machine(machine.system.name, kind),
    ...(model !== '' && { model }),
    nameplate: factsOf(nameplateOf(machine), words),
  };
}

function factsOf(plate: Nameplate, { plate: labels, tons: inTons }: PaperWords): PaperFact[] {
  return [
    fact(labels.cooling, plate.tons, inTons),
    capacitorFact(plate, labels.capacitor),
    fact(labels.compressor, plate.compressorRlaAmps, (amps) => `${amps} A`),
    fact(labels.controlFuse, plate.controlFuseAmps, (amps) => `${amps} A`),
    fact(labels.refrigerant, plate.refrigerant, (name) => name),
  ].filter((each) => each !== undefined);
}

function fact<T>(
  label: string,
  value: T | undefined,
  words: (value: T) => string,
): PaperFact | undefined {
  return value === undefined ? undefined : { label, text: words(value) };
}

function capacitorFact(plate: Nameplate, label: string): PaperFact | undefined {
  const sections = [plate.capacitorHermUf, plate.capacitorFanUf].filter((uf) => uf !== undefined);
  if (sections.length === 0) return undefined;
  const volts = plate.capacitorVolts === undefined ? '' : `, ${plate.capacitorVolts} V`;
  const tolerance =
    plate.capacitorTolerancePercent === undefined ? '' : `, ±${plate.capacitorTolerancePercent} %`;
  return { label, text: `${sections.join('/')} µF${volts}${tolerance}` };
}
