import type { ApiClient } from './api-client.ts';
import { followBoard } from './board-stream.ts';
import { clockSpan, type ToldBoard, windowText } from './board-table.ts';
import type { Desk } from './hottest-day.ts';
import type { TakenCall } from './take-hot-calls.ts';

/** A visit takes longer than planned: who would wait, and what to send them. */
export async function runLate({ dispatcher, say }: Desk, board: ToldBoard): Promise<void> {
  for (const { name, visits } of board.columns) {
    for (const minutes of [60, 120, 180]) {
      const [first, ...next] = visits;
      if (first === undefined || next.length === 0) continue;
      const path = `/v1/visits/${first.visitId}/running-late?minutes=${minutes}`;
      const items: Late[] = (await dispatcher.get(path)).body.items;
      const late = items.find(({ message }) => message !== null);
      if (late === undefined) continue;
      const after = `were ${name} ${minutes} minutes longer at ${first.household.name}`;
      say(`${late.household.name} would wait, ${after}. To be sent:`);
      say(`  "${late.message}"`);
      return;
    }
  }
}

interface Late {
  household: { name: string };
  message: string | null;
}

/**
 * A technician has to leave at noon: the answer names who is booked after that, a plan of the day is
 * proposed, looked at and used, and the screen at the office hears of it.
 * @returns from which event on it would hear of it again
 */
export async function planAnew(
  desk: Desk,
  { day, technicianId, calls }: { day: string; technicianId: string; calls: readonly TakenCall[] },
): Promise<string> {
  const { dispatcher, say } = desk;
  const stream = await followBoard(dispatcher);
  try {
    const away = await dispatcher.post(`/v1/technicians/${technicianId}/absences`, {
      ...{ firstDay: day, lastDay: day, why: 'other_hours' },
      hours: [{ startMinute: 7 * 60 + 30, endMinute: 12 * 60 }],
    });
    const affected: Affected[] = away.body.affectedVisits;
    const booked = affected.map((each) => `${callerOf(calls, each.ticketId)}, ${windowText(each)}`);
    const name = await nameOf(dispatcher, technicianId);
    say(`${name} has to leave at noon. Booked after that: ${booked.join('; ') || 'nobody'}`);
    const plan = await dispatcher.post(`/v1/days/${day}/plans`);
    await tellPlan(desk, plan.body, calls);
    const used = await dispatcher.post(`/v1/day-plans/${plan.body.id}/use`);
    const given: number = used.body.visits.length;
    say(`  Used, every window as it was promised; with somebody else: ${given}`);
    const news = await stream.next(given > 0 ? 'visit.booked' : 'absence.added');
    say(`Every open board heard of it at once, as event ${news.id}:`);
    say(`  ${news.data}`);
    return stream.beganAt;
  } finally {
    stream.close();
  }
}

interface Affected {
  ticketId: string;
  windowStart: string;
  windowEnd: string;
}

interface Planned {
  technicianId: string;
  visitId: string;
  planned: { start: string; minutes: number };
}

interface ToldPlan {
  shifted: Planned[];
  reassigned: Planned[];
  late: { visitId: string; lateMinutes: number }[];
  travelMinutes: { before: number; after: number };
}

async function tellPlan(
  { dispatcher, say }: Desk,
  plan: ToldPlan,
  calls: readonly TakenCall[],
): Promise<void> {
  const { before, after } = plan.travelMinutes;
  say(`The day planned anew, as a proposal: ${after} minutes on the road instead of ${before}`);
  for (const { technicianId, visitId, planned } of [...plan.reassigned, ...plan.shifted]) {
    const { body: visit } = await dispatcher.get(`/v1/visits/${visitId}`);
    const end = new Date(Date.parse(planned.start) + planned.minutes * 60_000).toISOString();
    const who = await nameOf(dispatcher, technicianId);
    const when = clockSpan({ start: planned.start, end });
    say(`  ${callerOf(calls, visit.ticketId)}: ${who}, ${when}`);
  }
  for (const { lateMinutes } of plan.late) say(`  one is ${lateMinutes} minutes late at best`);
}

function callerOf(calls: readonly TakenCall[], id: string): string {
  return calls.find(({ ticketId }) => ticketId === id)?.name ?? 'somebody else';
}

async function nameOf(dispatcher: ApiClient, technicianId: string): Promise<string> {
  return (await dispatcher.get(`/v1/technicians/${technicianId}`)).body.name;
}
