import { contactorPoles } from './electrical/contactor-poles.ts';
import type { Nameplate } from './evidence.ts';
import { faultCatalog } from './faults/catalog.ts';
import { chargeRefusal } from './refrigerant/charge-refusal.ts';
import { knownRefrigerant } from './refrigerant/known-refrigerant.ts';
import type { Part } from './words/parts.ts';
import { type TaskCode, taskWords } from './words/tasks.ts';

export type PartFit = { fits: true } | { fits: false; refusals: string[] };

/**
 * Whether a part may be fitted in this task on equipment with this nameplate, and if not, why, in
 * plain words. Rules: common practice, no source. What the nameplate does not say is not guessed.
 */
export function partFits(nameplate: Nameplate, taskCode: TaskCode, part: Part): PartFit {
  const refusals = isPartOf(taskCode, part)
    ? refusalsOf(nameplate, taskCode, part)
    : [
        `A ${part.category.replaceAll('_', ' ')} is not a part of this task: ${taskWords[taskCode].name}.`,
      ];
  return refusals.length === 0 ? { fits: true } : { fits: false, refusals };
}

function isPartOf(taskCode: TaskCode, { category }: Part): boolean {
  return faultCatalog
    .flatMap((fault) => fault.remedies)
    .some((remedy) => remedy.task === taskCode && remedy.partCategories.includes(category));
}

function refusalsOf(nameplate: Nameplate, taskCode: TaskCode, part: Part): string[] {
  switch (part.category) {
    case 'dual_run_capacitor':
      return [
        ...sameMicrofarads('compressor', nameplate.capacitorHermUf, part.specs.hermUf),
        ...sameMicrofarads('fan', nameplate.capacitorFanUf, part.specs.fanUf),
        ...enoughVolts(part.specs.voltsMax, nameplate.capacitorVolts),
      ];
    case 'run_capacitor':
      return [
        ...sameMicrofarads(...ratingFor(taskCode, nameplate), part.specs.microfarads),
        ...enoughVolts(part.specs.voltsMax, nameplate.capacitorVolts),
      ];
    case 'contactor':
      return contactorRefusals(nameplate, part.specs);
    case 'control_fuse':
      return sameFuse(part.specs.amps, nameplate.controlFuseAmps);
    case 'transformer':
      return transformerRefusals(part.specs, nameplate.transformerVa);
    case 'refrigerant':
      return refrigerantRefusals(part.specs.refrigerant, nameplate.refrigerant);
    case 'outdoor_unit':
      return [
        ...sameCircuit(part.specs.refrigerant, nameplate.refrigerant),
        ...sameTons(part.specs.tons, nameplate.tons),
      ];
    default:
      return [];
  }
}

/** Which motor the capacitor serves, and what the nameplate asks for. */
function ratingFor(
  taskCode: TaskCode,
  nameplate: Nameplate,
): [section: string, ratedUf: number | undefined] {
  if (taskCode === 'replace_fan_run_capacitor') return ['fan', nameplate.capacitorFanUf];
  if (taskCode === 'replace_blower_run_capacitor') return ['blower', nameplate.capacitorBlowerUf];
  return ['compressor', nameplate.capacitorHermUf];
}

/** Never one size up: a capacitor that is too large overheats the motor it serves. */
function sameMicrofarads(section: string, ratedUf: number | undefined, uf: number): string[] {
  if (ratedUf === undefined) return [`Record the ${section} capacitor of the nameplate first.`];
  if (uf === ratedUf) return [];
  return [`Its ${section} section has ${uf} uF, the nameplate asks for exactly ${ratedUf} uF.`];
}

function enoughVolts(voltsMax: number, originalVolts: number | undefined): string[] {
  if (originalVolts === undefined) {
    return ['Record the voltage of the original capacitor from the nameplate first.'];
  }
  if (voltsMax >= originalVolts) return [];
  return [`It bears ${voltsMax} V, the original ${originalVolts} V; never less.`];
}

type ContactorSpecs = Extract<Part, { category: 'contactor' }>['specs'];

function contactorRefusals(nameplate: Nameplate, specs: ContactorSpecs): string[] {
  const polesMin = contactorPoles(nameplate);
  const loadAmps = contactorLoadAmps(nameplate);
  const refusals: string[] = [];
  if (specs.poles < polesMin) {
    refusals.push(`It has ${specs.poles} pole(s), this equipment needs ${polesMin}.`);
  }
  if (specs.coilVolts !== 24) {
    refusals.push(`Its coil is made for ${specs.coilVolts} V, the control circuit gives 24 V.`);
  }
  if (loadAmps === undefined) {
    refusals.push('Record RLA and fan FLA, or MCA, from the nameplate first.');
  } else if (specs.ampsMax < loadAmps) {
    refusals.push(`It bears ${specs.ampsMax} A, this equipment draws up to ${loadAmps} A.`);
  }
  return refusals;
}

/** RLA + fan FLA; where either is missing MCA, which already holds more than both. */
function contactorLoadAmps(nameplate: Nameplate): number | undefined {
  const { compressorRlaAmps, fanFlaAmps, mcaAmps } = nameplate;
  if (compressorRlaAmps === undefined || fanFlaAmps === undefined) return mcaAmps;
  // Binary sums such as 0.1 + 0.2 must not refuse a contactor of exactly the load.
  return Math.round((compressorRlaAmps + fanFlaAmps) * 100) / 100;
}

/** A larger fuse would let the transformer or a wire burn in its place. */
function sameFuse(amps: number, boardAmps: number | undefined): string[] {
  if (boardAmps === undefined)
    return ['Record the fuse that the board or nameplate asks for first.'];
  return amps === boardAmps
    ? []
    : [`It is a ${amps} A fuse, the board asks for exactly ${boardAmps} A.`];
}

function transformerRefusals(
  { va, secondaryVolts }: { va: number; secondaryVolts: number },
  originalVa: number | undefined,
): string[] {
  if (secondaryVolts !== 24)
    return [`It gives ${secondaryVolts} V, the control circuit takes 24 V.`];
  if (originalVa === undefined) return ['Record the VA of the original transformer first.'];
  return va >= originalVa ? [] : [`It gives ${va} VA, the original ${originalVa} VA; never less.`];
}

/** By what the law and the maker refuse; of refrigerants no table here knows, by their names. */
function refrigerantRefusals(refrigerant: string, charged: string | undefined): string[] {
  const part = knownRefrigerant(refrigerant);
  const plate = charged === undefined ? undefined : knownRefrigerant(charged);
  if (part !== undefined && (charged === undefined || plate !== undefined)) {
    const refusal = chargeRefusal(part, plate);
    return refusal === undefined ? [] : [`It is ${refrigerant}. ${refusal.message}`];
  }
  if (charged === undefined) return ['Record the refrigerant of the nameplate first.'];
  if (refrigerant === charged) return [];
  return [`It is ${refrigerant}, the nameplate says ${charged}: never another refrigerant.`];
}

/** The indoor coil stays, and it was made and listed for one refrigerant; a flammable one above all. */
function sameCircuit(refrigerant: string, charged: string | undefined): string[] {
  if (charged === undefined) return ['Record the refrigerant of the nameplate first.'];
  const known = knownRefrigerant(refrigerant);
  const isSame =
    known === undefined ? refrigerant === charged : known === knownRefrigerant(charged);
  if (isSame) return [];
  return [
    `It is made for ${refrigerant}, the nameplate says ${charged}: another refrigerant needs the indoor coil that matches, and the old one stays.`,
  ];
}

/** The indoor coil and the ducts that stay were chosen for one size. */
function sameTons(tons: number, ratedTons: number | undefined): string[] {
  if (ratedTons === undefined) return ['Record the tons of the nameplate first.'];
  if (tons === ratedTons) return [];
  return [
    `It has ${tons} tons, the nameplate says ${ratedTons}: the indoor coil asks for the same.`,
  ];
}
