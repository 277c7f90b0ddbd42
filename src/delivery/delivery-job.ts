import type { Tx } from '../platform/database/database.ts';
import type { Prisma } from '../platform/database/generated/client.ts';
import type { Standing } from './letter.ts';

/** What one delivery is about, as it stands when it is sent. */
export type DeliveryJob = Prisma.DeliveryGetPayload<{ include: typeof jobFacts }>;

const jobFacts = {
  state: { select: { messageId: true } },
  customer: { select: { id: true, name: true, email: true, phone: true } },
  paper: {
    include: {
      revision: {
        select: {
          ...{ quoteId: true, number: true },
          quote: {
            select: {
              states: { select: { revision: true, state: true } },
              issues: { select: { revision: true, validUntil: true } },
            },
          },
        },
      },
    },
  },
} as const satisfies Prisma.DeliveryInclude;

export function deliveryJob(prisma: Pick<Tx, 'delivery'>, id: string): Promise<DeliveryJob> {
  return prisma.delivery.findUniqueOrThrow({ where: { id }, include: jobFacts });
}

/** Why a delivery can go nowhere, before anything is tried. */
export function undeliverable({
  cause,
  channel,
  customer,
  paper,
}: DeliveryJob): string | undefined {
  if (channel === 'mail' && !customer.email?.trim()) return 'There is no mail address on file.';
  if (channel === 'text' && !customer.phone.trim()) return 'There is no phone number on file.';
  // Whoever gets a quote that was replaced on the way would answer prices that no longer stand.
  const state = stateOf(paper);
  if (cause === 'issued' && state === 'superseded') {
    return 'A newer revision took its place before it was sent; that one goes out by itself.';
  }
  if (cause === 'issued' && state === 'withdrawn') {
    return 'The quote was withdrawn before it was sent.';
  }
  return undefined;
}

/** How the quote of a delivery stands while it is sent; undefined of all other papers. */
export function standingOf({ paper }: DeliveryJob, now: Date): Standing | undefined {
  switch (stateOf(paper)) {
    case 'accepted':
      return 'accepted';
    case 'declined':
      return 'declined';
    case 'withdrawn':
      return 'withdrawn';
    case 'superseded':
      return 'replaced';
    case 'issued':
      return isOver(paper, now) ? 'expired' : 'waits';
    default:
      return undefined;
  }
}

function stateOf({ revision }: DeliveryJob['paper']): string | undefined {
  return revision?.quote.states.find((of) => of.revision === revision.number)?.state;
}

function isOver({ revision }: DeliveryJob['paper'], now: Date): boolean {
  const issue = revision?.quote.issues.find((of) => of.revision === revision.number);
  return issue !== undefined && issue.validUntil <= now;
}
