import type { PaperVerdict } from './quote-paper.ts';
import type { GaugeWords, QuoteWords } from './quote-words.ts';
import { sumInWords } from './sum-in-words.ts';

/** The words of a quote for a reader of Spanish in the United States. */
export const spanishQuoteWords: QuoteWords = {
  languageTag: 'es-US',
  quote: 'Presupuesto de reparación',
  title: (quoteNumber, revision) => `Presupuesto ${quoteNumber}, revisión ${revision}`,
  changeTo: (quoteNumber) => `Cambio al presupuesto ${quoteNumber}`,
  fileTitle: (quoteNumber, revision, company) =>
    `Presupuesto de reparación ${quoteNumber}, revisión ${revision}, de ${company}`,
  issued: (dateText) => `Emitido el ${dateText}`,
  validUntil: (dateText) => `Válido hasta ${dateText}`,
  license: (licenseNumber) => `Licencia ${licenseNumber}`,
  preparedFor: 'Preparado para',
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
  options: { one: 'Lo que cuesta', several: 'Sus opciones y lo que cuestan' },
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
  declineHeading: 'Si usted dice que no',
  declineText: (total) => `Usted paga ${total} por la visita y nada más.`,
  nothingAdded: ({ number, agreed, hasGrown }) =>
    hasGrown
      ? `No se agrega nada. Siguen vigentes el presupuesto ${number} y lo que usted le agregó antes, ${agreed} en total.`
      : `No se agrega nada. El presupuesto ${number} por ${agreed} sigue vigente.`,
  together: ({ number, hasGrown }) =>
    hasGrown
      ? `Junto con el presupuesto ${number} y lo que se le agregó`
      : `Junto con el presupuesto ${number}`,
  keepPaper: 'Puede quedarse con este papel.',
  sum: sumInWords,
  declineGlance: 'No, ahora no: solo la visita',
  nothingAddedGlance: 'No, ahora no: no se agrega nada',
  withTax: 'Total con impuestos',
  cautions: 'Tenga en cuenta',
  legal: 'Condiciones y sus derechos',
  answer: 'Su respuesta',
  answerText: (quoteNumber, revision) =>
    `Por favor marque una casilla y firme. Su respuesta es al presupuesto ${quoteNumber}, revisión ${revision}, como está impreso aquí.`,
  acceptLine: (letter, title, total) =>
    `Sí${letter === undefined ? '' : `, opción ${letter}`}: ${title}, por ${total} en total`,
  declineLine: (total) => `No, ahora no. Pago ${total} por la visita`,
  nothingAddedLine: 'No, ahora no. No se agrega nada',
  totalsAgain: {
    option: 'Los totales otra vez',
    parts: 'Antes de impuestos + impuestos',
    total: 'Total',
  },
  name: 'Nombre en letra de molde',
  signature: 'Firma',
  date: 'Fecha',
  contentHash: 'Código de verificación (SHA-256)',
  page: (pageNumber, pageCount) => `Página ${pageNumber} de ${pageCount}`,
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
};
