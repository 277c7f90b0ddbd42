import type { Line, TaxLine } from '../priced-quote.ts';
import type { PricingInputs } from '../pricing-inputs.ts';
import type { WhyNode, WhyRounding } from '../why.ts';
import { dollarsText, percentText } from '../words.ts';
import type { SpanishContext } from './spanish-context.ts';
import { taxClassesInSpanish } from './words.ts';

/** What is taxed and how, and why a job with one price as a rule has its prices one by one. */
export function taxSentence(line: TaxLine, context: SpanishContext): string {
  const { tax } = context.inputs;
  const taxes = line.why.steps.filter(isRounding);
  if (!isSeparated(line, tax)) return 'No se agrega impuesto: el trabajo tiene un solo precio.';
  return `${whySeparated(context)}${reckoned(taxes, line, tax)}`;
}

/** Of a lump sum nothing is told of its goods; what is told of them separated it. */
function isSeparated({ why }: TaxLine, { mode }: PricingInputs['tax']): boolean {
  return mode === 'separated' || why.steps.some((step) => !isRounding(step));
}

function reckoned(
  taxes: readonly WhyRounding[],
  { amountCents }: TaxLine,
  tax: PricingInputs['tax'],
): string {
  const [first] = taxes;
  if (first === undefined) return 'Nada de esto lleva impuesto.';
  const rate = percentText(tax.rate);
  const amount = dollarsText(amountCents);
  if (tax.basis === 'invoice') {
    return `${rate} de ${dollarsText(taxedCents(first))} (${taxedClasses(tax).join(', ')}) = ${amount}.`;
  }
  const items = taxes.map(({ cents }) => dollarsText(cents)).join(' + ');
  return `${rate} de cada concepto gravado, cada uno redondeado al centavo: ${items} = ${amount}.`;
}

function taxedCents({ from }: WhyRounding): number {
  const [taxed] = from;
  if (taxed?.node !== 'input' || taxed.unit !== 'cents') {
    throw new Error('a tax names first what it falls on');
  }
  return Number(taxed.value);
}

/** The taxed classes in the order of the paper, however the rule lists them. */
export function taxedClasses({ taxableClasses }: PricingInputs['tax']): string[] {
  return paperOrder
    .filter((taxClass) => taxableClasses.includes(taxClass))
    .map((taxClass) => taxClassesInSpanish[taxClass]);
}

const paperOrder = ['visit_fee', 'part', 'material', 'equipment', 'labor', 'access'] as const;

function whySeparated({ lines, inputs: { tax } }: SpanishContext): string {
  const limit = tax.separateAboveShare;
  if (tax.mode === 'separated' || limit === undefined) return '';
  const charged = lines.filter(({ kind }) => kind !== 'credit' && kind !== 'tax');
  const goods = dollarsText(sumOf(charged.filter((line) => line.class === 'part')));
  const whole = dollarsText(sumOf(charged));
  return `Las piezas, los materiales y el equipo son ${goods} de ${whole}, más de ${percentText(limit)}; por eso los precios y el impuesto se indican por separado. `;
}

function sumOf(lines: readonly Line[]): number {
  return lines.reduce((sum, { amountCents }) => sum + amountCents, 0);
}

function isRounding(node: WhyNode): node is WhyRounding {
  return node.node === 'rounding';
}
