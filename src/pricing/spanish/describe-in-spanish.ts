import { dearestEarlier } from '../discount-second-tasks.ts';
import type { Line } from '../priced-quote.ts';
import type { SpanishContext } from './spanish-context.ts';
import { codeInSpanish } from './words.ts';

/** What it takes to name a line. */
type NamingContext = Pick<SpanishContext, 'lines' | 'inputs' | 'taskName'>;

/** What a line is for, in Spanish. */
export function describeInSpanish(line: Line, context: NamingContext): string {
  switch (line.kind) {
    case 'visit_fee':
      return 'Tarifa de visita';
    case 'part':
    case 'good':
      return line.description;
    case 'labor':
      return context.taskName({ code: line.taskCode, name: line.description });
    case 'access':
      return `Acceso: ${codeInSpanish(line.code)}`;
    case 'discount':
      return describeDiscount(line, context);
    case 'adjustment':
      return `Ajuste: ${aimOf(line.aimedAt, context)}`;
    case 'credit':
      return 'Crédito de la tarifa de visita al aceptar';
    case 'tax':
      return line.description;
  }
}

function describeDiscount(line: Extract<Line, { kind: 'discount' }>, context: NamingContext) {
  switch (line.code) {
    case 'second_task':
      return `Segunda tarea de la misma visita: ${aimOf(line.aimedAt, context)}`;
    case 'earlier_second_task_discount': {
      const earlier = dearestEarlier(context.inputs.earlierWork?.labor ?? []);
      const name = earlier === undefined ? '' : context.taskName({ name: earlier.taskName });
      return `Ahora segunda tarea de la misma visita: ${name}`;
    }
    default:
      return `${context.inputs.agreement?.name}: ${aimOf(line.aimedAt, context)}`;
  }
}

/** What the line is for that this one is aimed at. */
function aimOf(key: string, context: NamingContext): string {
  const aim = context.lines.find((line) => line.key === key);
  if (aim === undefined) throw new Error(`nothing is charged as ${key}`);
  return describeInSpanish(aim, context);
}
