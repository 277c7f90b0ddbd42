import type { PaperFact, PaperSystem } from '../documents/index.ts';
import { nameplateOf } from '../equipment/index.ts';
import type { Prisma } from '../platform/database/generated/client.ts';
import type { Nameplate } from '../trade/index.ts';

type Machine = Prisma.EquipmentGetPayload<{ include: { system: true } }>;

/** A machine as the paper names it, with the facts of its nameplate that a reader may want. */
export function paperSystem(machine: Machine): PaperSystem {
  const kind = machine.kind.replaceAll('_', ' ');
  const model = [machine.maker, machine.model].filter(Boolean).join(' ');
  return {
    name: `${machine.system.name}: ${kind}`,
    ...(model !== '' && { model }),
    nameplate: factsOf(nameplateOf(machine)),
  };
}

function factsOf(plate: Nameplate): PaperFact[] {
  return [
    fact('Cooling capacity', plate.tons, (tons) => `${tons} tons`),
    capacitorFact(plate),
    fact('Compressor rated load', plate.compressorRlaAmps, (amps) => `${amps} A`),
    fact('Control fuse', plate.controlFuseAmps, (amps) => `${amps} A`),
    fact('Refrigerant', plate.refrigerant, (name) => name),
  ].filter((each) => each !== undefined);
}

function fact<T>(
  label: string,
  value: T | undefined,
  words: (value: T) => string,
): PaperFact | undefined {
  return value === undefined ? undefined : { label, text: words(value) };
}

function capacitorFact(plate: Nameplate): PaperFact | undefined {
  const sections = [plate.capacitorHermUf, plate.capacitorFanUf].filter((uf) => uf !== undefined);
  if (sections.length === 0) return undefined;
  const volts = plate.capacitorVolts === undefined ? '' : `, ${plate.capacitorVolts} V`;
  const tolerance =
    plate.capacitorTolerancePercent === undefined ? '' : `, ±${plate.capacitorTolerancePercent} %`;
  return { label: 'Run capacitor', text: `${sections.join('/')} µF${volts}${tolerance}` };
}
