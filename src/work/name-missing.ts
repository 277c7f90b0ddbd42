import type { Tx } from '../platform/database/database.ts';
import { taskCodeSchema, taskWords } from '../trade/index.ts';
import type { Missing } from './what-is-missing.ts';

/** What is missing, by the names a person knows it by, and what to do about it in words. */
export type NamedMissing = Missing & {
  quoteNumber?: number;
  taskName?: string;
  partName?: string;
  say: string;
};

type Tables = Pick<Tx, 'finding' | 'quote' | 'quoteAcceptance' | 'quoteLine'>;

/** Names what is missing, in the order given. */
export async function nameMissing(
  tx: Tables,
  missing: readonly Missing[],
): Promise<NamedMissing[]> {
  const named: NamedMissing[] = [];
  for (const each of missing) named.push(await nameOne(tx, each));
  return named;
}

async function nameOne(tx: Tables, missing: Missing): Promise<NamedMissing> {
  if (missing.what === 'readings_after') {
    const say = 'Measure or look how the system is left, or say why nothing was measured.';
    return { ...missing, say };
  }
  const { number: quoteNumber } = await tx.quote.findUniqueOrThrow({
    where: { id: missing.quoteId },
    select: { number: true },
  });
  if (missing.what === 'answer') {
    const say = `Quote ${quoteNumber} waits for its answer. Record it, or withdraw the quote.`;
    return { ...missing, quoteNumber, say };
  }
  const taskName = await taskNameOf(tx, missing.findingId);
  if (missing.what === 'outcome') {
    const say = `Say whether '${taskName}' of quote ${quoteNumber} was done.`;
    return { ...missing, quoteNumber, taskName, say };
  }
  if (missing.what === 'refrigerant') {
    const { direction } = missing;
    const say = `Weigh what ${WENT[direction]} for '${taskName}' of quote ${quoteNumber}.`;
    return { ...missing, quoteNumber, taskName, say };
  }
  const partName = await partNameOf(tx, missing);
  const say = `Say whether '${partName}' of quote ${quoteNumber} went in or was left over.`;
  return { ...missing, quoteNumber, taskName, partName, say };
}

const WENT = {
  charged: 'went in',
  recovered: 'came out',
  either: 'refrigerant went in or came out',
} as const;

async function taskNameOf(tx: Tables, findingId: string): Promise<string> {
  const { taskCode } = await tx.finding.findUniqueOrThrow({
    where: { id: findingId },
    select: { taskCode: true },
  });
  return taskWords[taskCodeSchema.parse(taskCode)].name;
}

async function partNameOf(
  tx: Tables,
  { quoteId, partCode }: { quoteId: string; partCode: string },
): Promise<string> {
  const { optionId } = await tx.quoteAcceptance.findUniqueOrThrow({
    where: { quoteId },
    select: { optionId: true },
  });
  const line = await tx.quoteLine.findFirst({
    where: { optionId, code: partCode, kind: { in: ['part', 'good'] } },
    select: { description: true },
  });
  return line?.description ?? partCode;
}
