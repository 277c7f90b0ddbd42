import { dearestEarlier } from '../discount-second-tasks.ts';
import type { DiscountLine } from '../priced-quote.ts';
import { dollarsText, percentText } from '../words.ts';
import type { SpanishContext } from './spanish-context.ts';
import { chargeClassesInSpanish } from './words.ts';

/** Why something is taken off a line: a second task of the visit, or the agreement. */
export function discountSentence(line: DiscountLine, context: SpanishContext): string {
  switch (line.code) {
    case 'second_task':
      return secondTask(line, context);
    case 'earlier_second_task_discount':
      return earlierSecondTask(line, context);
    default:
      return byAgreement(line, context);
  }
}

function secondTask(line: DiscountLine, context: SpanishContext): string {
  const percent = percentText(context.inputs.policy.secondTaskDiscount);
  const labor = dollarsText(chargedFor(line, context));
  return `${percent} menos en la mano de obra de una segunda tarea: ${percent} de ${labor} = ${offText(line)}.`;
}

function earlierSecondTask(line: DiscountLine, { inputs, taskName }: SpanishContext): string {
  const earlier = dearestEarlier(inputs.earlierWork?.labor ?? []);
  if (earlier === undefined) throw new Error('an earlier task has a discount, and there is none');
  const percent = percentText(inputs.policy.secondTaskDiscount);
  const labor = dollarsText(earlier.amountCents);
  const name = taskName({ name: earlier.taskName });
  return `${name} era antes la tarea más cara de esta visita, cobrada completa con ${labor} de mano de obra; ahora es una segunda tarea: ${percent} de ${labor} = ${offText(line)}.`;
}

function byAgreement(line: DiscountLine, context: SpanishContext): string {
  const { agreement } = context.inputs;
  const share = agreement?.discounts[line.class];
  if (agreement === undefined || share === undefined) {
    throw new Error(`no agreement gives a discount on ${line.class}`);
  }
  const percent = percentText(share);
  const others = context.lines.filter(
    (other) => other.kind === 'discount' && other.aimedAt === line.aimedAt && other !== line,
  );
  const offBefore = others.reduce((sum, { amountCents }) => sum + amountCents, 0);
  const left = dollarsText(chargedFor(line, context) + offBefore);
  const base = others.length === 0 ? left : `los ${left} que quedan`;
  return `${percent} menos en ${chargeClassesInSpanish[line.class]} por el contrato de mantenimiento ${agreement.name}: ${percent} de ${base} = ${offText(line)}.`;
}

function chargedFor({ aimedAt }: DiscountLine, { lines }: SpanishContext): number {
  const charged = lines.find(({ key }) => key === aimedAt);
  if (charged === undefined) throw new Error(`nothing is charged as ${aimedAt}`);
  return charged.amountCents;
}

function offText({ amountCents }: DiscountLine): string {
  return dollarsText(-amountCents);
}
