import type { Answer, ApiClient } from './api-client.ts';
import { windowText } from './board-table.ts';
import type { Desk } from './hottest-day.ts';
import { dollars } from './stories.ts';
import type { TakenCall } from './take-hot-calls.ts';

/** A visit that was booked for a call. */
export interface BookedCall extends TakenCall {
  visit: Answer;
}

/** Books the best window of a day for a call, and tells why it is the best. */
export async function bookBest(
  { dispatcher, say }: Desk,
  day: string,
  call: TakenCall,
): Promise<BookedCall> {
  const { work, purpose, items } = await windowsOf(dispatcher, day, call.ticketId);
  const [best] = items;
  if (best === undefined) throw new Error(`no window is left on ${day}`);
  const visit = await dispatcher.post('/v1/visits', {
    ...{ ticketId: call.ticketId, purpose },
    ...asTold(best),
    feeDisclosure: feeOf(best, call.name),
  });
  const fee = dollars(best.fee.feeAfterDiscountCents);
  say(`${call.name}: ${windowText(best)}, ${work.minutes} minutes of work, fee ${fee} agreed`);
  say(`  ${best.why}`);
  return { ...call, visit };
}

/** The caller asks for a later window: the best one that begins after the one that was booked. */
export async function moveLater(
  { dispatcher, say }: Desk,
  day: string,
  { name, ticketId, visit }: BookedCall,
): Promise<void> {
  const { items } = await windowsOf(dispatcher, day, ticketId);
  const later = items.find(({ windowStart }) => windowStart >= visit.body.windowEnd);
  if (later === undefined) {
    say(`${name} asks for a later window; none is left that day, so it stays`);
    return;
  }
  await dispatcher.post(
    `/v1/visits/${visit.body.id}/rebook`,
    {
      ...asTold(later),
      ...{ askedBy: 'customer', windowAgreedBy: name, reason: 'Has to be at work before.' },
      feeDisclosure: feeOf(later, name),
    },
    visit.tag,
  );
  say(`${name} asks for a later window: ${windowText(visit.body)} becomes ${windowText(later)}`);
}

/** A window as the API offers it, as far as it is told and booked. */
interface Offer {
  technicianId: string;
  technicianName: string;
  windowStart: string;
  windowEnd: string;
  planned: { start: string; minutes: number };
  fee: { feeCents: number; feeAfterDiscountCents: number };
  why: string;
}

async function windowsOf(
  dispatcher: ApiClient,
  day: string,
  ticketId: string,
): Promise<{ work: { minutes: number }; purpose: string; items: Offer[] }> {
  const path = `/v1/tickets/${ticketId}/windows?from=${day}&days=1&limit=50`;
  return (await dispatcher.get(path)).body;
}

function asTold({ technicianId, windowStart, windowEnd, planned }: Offer) {
  return { technicianId, windowStart, windowEnd, planned };
}

function feeOf({ fee }: Offer, agreedBy: string) {
  return {
    toldFeeCents: fee.feeCents,
    toldFeeAfterDiscountCents: fee.feeAfterDiscountCents,
    agreedBy,
  };
}
