import { type Told, toldIn } from '../phone-script/index.ts';
import type { Tx } from '../platform/database/database.ts';
import { dialogueOf } from './dialogue-of.ts';
import { withAnswers } from './whole-check.ts';

/** What the phone told of how urgent a ticket is. Null is what nobody asked, or nobody knew. */
export interface PhoneFacts {
  /** What a dialogue stopped for and is not over. */
  danger: string | null;
  /** Groups of vulnerable people; empty where somebody said that nobody is. */
  vulnerable: readonly string[] | null;
  indoorTempDegF: number | null;
  relativeHumidityPercent: number | null;
  /** They can go somewhere cooler. */
  hasCoolerPlace: boolean | null;
  waterSpreading: boolean | null;
  /** By the complaint, or because nothing or warm air comes out. */
  noCooling: boolean;
}

/**
 * What was told by phone of some tickets, by a fixed number of statements however many they are. Of
 * several dialogues of one ticket the later answer counts, where it is known; of a ticket that was
 * reopened only what was told since. A danger stays until somebody says that it is over.
 * @returns by the identifier of the ticket; one that does not exist is not there
 */
export async function phoneFactsOf(
  prisma: Pick<Tx, 'ticket'>,
  ticketIds: readonly string[],
): Promise<ReadonlyMap<string, PhoneFacts>> {
  if (ticketIds.length === 0) return new Map();
  const tickets = await prisma.ticket.findMany({
    where: { id: { in: [...ticketIds] } },
    select: {
      id: true,
      symptoms: true,
      callbacks: { orderBy: { reopenedAt: 'desc' }, take: 1, select: { reopenedAt: true } },
      phoneChecks: { orderBy: { run: 'asc' }, include: withAnswers },
    },
  });
  return new Map(
    tickets.map(({ id, symptoms, callbacks: [callback], phoneChecks }) => {
      const since = callback?.reopenedAt ?? new Date(0);
      const lately = phoneChecks.filter(({ startedAt }) => startedAt >= since);
      const told: Told = Object.assign({}, ...lately.map((each) => toldIn(dialogueOf(each))));
      const open = phoneChecks.find(
        ({ dangerCode, dangerOverAt }) => dangerCode !== null && dangerOverAt === null,
      );
      return [
        id,
        {
          danger: open?.dangerCode ?? null,
          vulnerable: told.vulnerable ?? null,
          indoorTempDegF: told.indoorTempDegF ?? null,
          relativeHumidityPercent: told.relativeHumidityPercent ?? null,
          hasCoolerPlace: told.hasCoolerPlace ?? null,
          waterSpreading: told.waterSpreading ?? null,
          noCooling: told.noCooling ?? symptoms.includes('no_cooling'),
        },
      ];
    }),
  );
}
