import type { PaperLanguage } from '../documents/index.ts';
import {
  type Line,
  minutesInSpanish,
  minutesText,
  type PricingInputs,
  taxLabel,
  taxLabelInSpanish,
} from '../pricing/index.ts';
import {
  type EquipmentKind,
  equipmentKindsInSpanish,
  type FaultCode,
  faultsInSpanish,
  type PartCategory,
  partInSpanish,
  type TaskCode,
  tasksInSpanish,
  taskWords,
} from '../trade/index.ts';

/** The kinds of lines whose heading is not the work of a finding. */
type GeneralKind = Exclude<Line['kind'], 'part' | 'good' | 'labor'>;

/** What a paper says of its own accord while it is composed. Another language is another table. */
export interface PaperWords {
  endOf: (day: string) => string;
  faultName: (finding: { faultCode: FaultCode; faultName: string }) => string;
  taskName: (code: TaskCode) => string;
  kindName: (kind: EquipmentKind) => string;
  /** A machine within the system that its owner named, in whatever language. */
  machine: (systemName: string, kind: string) => string;
  summary: {
    nothing: string;
    found: (faults: string) => string;
    /** Of what the evidence does not carry: it is offered for a reason of the owner's. */
    notProven: (faults: string) => string;
    resets: string;
    causes: Record<'proof' | 'evidence', string>;
  };
  work: string;
  labor: (task: string) => string;
  /** A part as the price book names it; in another language with its kind. */
  partName: (kind: PartCategory, name: string) => string;
  heading: Record<GeneralKind, string>;
  agreement: (name: string | undefined) => string;
  minutes: (minutes: number) => string;
  tax: (rule: PricingInputs['tax']) => string;
  plate: Record<'cooling' | 'capacitor' | 'compressor' | 'controlFuse' | 'refrigerant', string>;
  tons: (tons: number) => string;
  marked: (rated: string) => string;
  /** Of a share: what all of it is. */
  asked: (rated: string) => string;
  presence: string;
  allowed: {
    between: (low: string, high: string) => string;
    atLeast: (low: string) => string;
    atMost: (high: string) => string;
  };
}

export const paperWords: Record<PaperLanguage, PaperWords> = {
  en: {
    endOf: (day) => `the end of ${day}`,
    faultName: ({ faultName }) => faultName,
    taskName: (code) => taskWords[code].name,
    kindName: (kind) => kind.replaceAll('_', ' '),
    machine: (systemName, kind) => `${systemName}: ${kind}`,
    summary: {
      nothing: 'We looked and quote no work.',
      found: (faults) => `We found: ${faults}.`,
      notProven: (faults) => `Not proven, and offered for the owner’s reason: ${faults}.`,
      resets: 'No labor is charged for a reset.',
      causes: {
        proof: 'Below is the proof, what mending it costs, and why.',
        evidence: 'Below is the evidence, what mending it costs, and why.',
      },
    },
    work: 'Work',
    labor: (task) => `Labor: ${task}`,
    partName: (_, name) => name,
    heading: {
      visit_fee: 'The visit',
      access: 'Getting to it',
      discount: 'Discounts and credits',
      adjustment: 'Discounts and credits',
      credit: 'Discounts and credits',
      tax: 'Tax',
    },
    agreement: (name) => `Maintenance agreement: ${name}`,
    minutes: minutesText,
    tax: taxLabel,
    plate: {
      cooling: 'Cooling capacity',
      capacitor: 'Run capacitor',
      compressor: 'Compressor rated load',
      controlFuse: 'Control fuse',
      refrigerant: 'Refrigerant',
    },
    tons: (tons) => `${tons} tons`,
    marked: (rated) => `Marked ${rated}.`,
    asked: (rated) => `${rated} is what nameplate and line set ask for.`,
    presence: 'Whether there is any voltage',
    allowed: {
      between: (low, high) => `Should be ${low} to ${high}`,
      atLeast: (low) => `Should be ${low} or more`,
      atMost: (high) => `Should be ${high} or less`,
    },
  },
  es: {
    endOf: (day) => `el ${day} inclusive`,
    faultName: ({ faultCode }) => faultsInSpanish[faultCode].name,
    taskName: (code) => tasksInSpanish[code],
    kindName: (kind) => equipmentKindsInSpanish[kind],
    machine: (systemName, kind) => `“${systemName}”: ${kind}`,
    summary: {
      nothing: 'Revisamos y no cotizamos ningún trabajo.',
      found: (faults) => `Encontramos: ${faults}.`,
      notProven: (faults) => `No comprobado, y ofrecido por la razón que da el dueño: ${faults}.`,
      resets: 'Un restablecimiento no tiene cargo de mano de obra.',
      causes: {
        proof: 'Abajo están las pruebas, lo que cuesta repararlo y por qué.',
        evidence: 'Abajo está la evidencia, lo que cuesta repararlo y por qué.',
      },
    },
    work: 'Trabajo',
    labor: (task) => `Mano de obra: ${task}`,
    partName: partInSpanish,
    heading: {
      visit_fee: 'La visita',
      access: 'Acceso al equipo',
      discount: 'Descuentos y créditos',
      adjustment: 'Descuentos y créditos',
      credit: 'Descuentos y créditos',
      tax: 'Impuesto',
    },
    agreement: (name) => `Contrato de mantenimiento: ${name}`,
    minutes: minutesInSpanish,
    tax: taxLabelInSpanish,
    plate: {
      cooling: 'Capacidad de enfriamiento',
      capacitor: 'Capacitor de marcha',
      compressor: 'Corriente nominal del compresor',
      controlFuse: 'Fusible de control',
      refrigerant: 'Refrigerante',
    },
    tons: (tons) => `${tons} toneladas`,
    marked: (rated) => `Marcado ${rated}.`,
    asked: (rated) => `${rated} es lo que piden la placa de datos y la tubería.`,
    presence: 'Si hay voltaje o no',
    allowed: {
      between: (low, high) => `Debe estar entre ${low} y ${high}`,
      atLeast: (low) => `Debe ser ${low} o más`,
      atMost: (high) => `Debe ser ${high} o menos`,
    },
  },
};
