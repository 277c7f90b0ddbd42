import type { GoodLine, LaborLine, PartLine } from '../priced-quote.ts';
import { chargesTime } from '../what-is-charged.ts';
import type { SpanishContext } from './spanish-context.ts';

/** Why a rule made this line free; undefined when none did. */
export function freeWorkSentence(
  line: PartLine | GoodLine | LaborLine,
  { work }: SpanishContext,
): string | undefined {
  const own = work.find(
    ({ findingId, taskCode }) => findingId === line.findingId && taskCode === line.taskCode,
  );
  if (own === undefined) throw new Error(`no work is charged as ${line.key}`);
  if (own.recall) {
    return 'Sin cargo: la misma falla de este sistema volvió dentro de nuestra garantía de mano de obra.';
  }
  if (line.kind === 'labor') {
    return chargesTime(own) ? undefined : 'Un restablecimiento no tiene cargo de mano de obra.';
  }
  const isWarranted =
    line.kind === 'part' &&
    own.parts.some(({ code, underManufacturerWarranty }) => {
      return code === line.code && underManufacturerWarranty;
    });
  return isWarranted ? 'Sin cargo: la pieza está en garantía del fabricante.' : undefined;
}
