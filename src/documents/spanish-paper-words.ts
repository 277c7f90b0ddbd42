import type { PaperVerdict } from './paper-parts.ts';
import type { GaugeWords, PaperWords } from './paper-words.ts';
import { sumInWords } from './sum-in-words.ts';

/** What papers of every kind say to a reader of Spanish in the United States. */
export const spanishPaperWords: PaperWords = {
  languageTag: 'es-US',
  issued: (dateText) => `Emitido el ${dateText}`,
  license: (licenseNumber) => `Licencia ${licenseNumber}`,
  serviceAddress: 'Dirección del servicio',
  occupant: (name) => `Ocupante: ${name}`,
  equipment: 'Su equipo',
  findings: 'Lo que encontramos',
  standing: {
    proven: 'Comprobado',
    supported: 'Probable',
    unproven: 'No comprobado',
    contradicted: 'La evidencia lo contradice',
  },
  standingMeaning: {
    proven: 'La evidencia lo demuestra.',
    supported: 'Las señales apuntan aquí; no se han descartado todas las demás causas.',
    unproven: 'La evidencia no lo demuestra.',
    contradicted: 'La evidencia indica lo contrario.',
  },
  speaksAgainst: (statement) => `Lo contradice: ${statement}`,
  offeredBecause: (reason) => `El dueño ofrece el trabajo por esta razón: ${reason}`,
  limit: (limit) => `límite ${limit}`,
  verdict: {
    within: 'Dentro de sus límites',
    outside: 'Fuera de sus límites',
    undecided: 'Demasiado cerca del límite para saberlo con certeza',
    present: 'Hay',
    absent: 'No hay',
  },
  gaugeLegend: 'En cada gráfica la franja oscura es lo permitido; la marca es lo que medimos.',
  doubts: 'Lo que falta aclarar',
  observations: 'Lo que vimos',
  beCareful: 'Tenga cuidado',
  gaugeAlt: gaugeInSpanish,
  unitInFull: {
    μF: 'microfaradios',
    V: 'voltios',
    A: 'amperios',
    Ω: 'ohmios',
    kΩ: 'kilohmios',
    MΩ: 'megohmios',
    '°F': 'grados Fahrenheit',
    psi: 'libras por pulgada cuadrada',
    psig: 'libras por pulgada cuadrada manométricas',
    'in. w.c.': 'pulgadas de columna de agua',
    W: 'vatios',
    '%': 'por ciento',
    min: 'minutos',
    h: 'horas',
    lb: 'libras',
    oz: 'onzas',
    ft: 'pies',
    microns: 'micrones de mercurio',
    CFM: 'pies cúbicos por minuto',
  },
  option: (letter, title) => `Opción ${letter}: ${title}`,
  column: {
    line: 'Trabajo y piezas',
    calculation: 'Cantidad × precio',
    quantity: 'Cantidad',
    amount: 'Importe',
  },
  subtotal: 'Subtotal antes de impuestos',
  total: 'Total',
  lumpSumPrice: 'Un solo precio por todo lo anterior',
  lumpSumNote: 'Es un precio global: el trabajo y las piezas se enumeran sin precios por separado.',
  nothingAdded: ({ number, agreed, hasGrown }) =>
    hasGrown
      ? `No se agrega nada. Siguen vigentes el presupuesto ${number} y lo que usted le agregó antes, ${agreed} en total.`
      : `No se agrega nada. El presupuesto ${number} por ${agreed} sigue vigente.`,
  together: ({ number, hasGrown }) =>
    hasGrown
      ? `Junto con el presupuesto ${number} y lo que se le agregó`
      : `Junto con el presupuesto ${number}`,
  sum: sumInWords,
  cautions: 'Tenga en cuenta',
  localCodes:
    'Los códigos locales y las normas del oficio con licencia tienen prioridad sobre todo lo que dice este documento.',
  legal: 'Condiciones y sus derechos',
  contentHash: 'Código de verificación (SHA-256)',
  page: (pageNumber, pageCount) => `Página ${pageNumber} de ${pageCount}`,
  checkHere: '¿Es auténtico este papel?',
  checkHow: 'El código abre una página que muestra lo que emitimos. No le pide nada.',
  preparedFor: 'Preparado para',
  withTax: 'Total con impuestos',
  danger: 'Le advertimos de un peligro',
  howLeft: 'Cómo dejamos el sistema',
  codeAlt: (pageUrl) => `Código QR que abre ${pageUrl}`,
};

function gaugeInSpanish(gauge: GaugeWords): string {
  const { label, value, unit, uncertainty, low, high, verdict } = gauge;
  const spread = uncertainty === undefined ? '' : `, más o menos ${uncertainty}`;
  return `${label}: medimos ${value} ${unit}${spread}. ${allowed(low, high, unit)} ${VERDICT_SENTENCES[verdict]}`;
}

function allowed(low: string | undefined, high: string | undefined, unit: string): string {
  if (low !== undefined && high !== undefined) return `Permitido: de ${low} a ${high} ${unit}.`;
  if (low !== undefined) return `Permitido: ${low} ${unit} o más.`;
  if (high !== undefined) return `Permitido: ${high} ${unit} o menos.`;
  return 'No se da un límite.';
}

const VERDICT_SENTENCES: Record<PaperVerdict, string> = {
  within: 'La lectura está dentro de sus límites.',
  outside: 'La lectura está fuera de sus límites.',
  undecided: 'La lectura está demasiado cerca de un límite para que este instrumento decida.',
  present: 'Sí hay.',
  absent: 'No hay.',
};
