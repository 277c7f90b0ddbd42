import { isDeepStrictEqual } from 'node:util';
import type { Judge } from './judge-answer.ts';
import { may, type Plan } from './plan-request.ts';
import type { Operation } from './read-contract.ts';
import type { WireRequest } from './request-of.ts';
import type { WireAnswer } from './send-request.ts';
import type { World } from './world.ts';

/** One request and what came of it. */
export interface Exchange {
  operation: Operation;
  plan: Plan;
  request: WireRequest;
  answer: WireAnswer;
}

/** What is wrong with an answer: by the contract, and by who asked. */
export function complain(
  judge: Judge,
  { operation, plan: { who, mood }, request, answer }: Exchange,
): string[] {
  if (request.isAstray) return judge(answer, undefined);
  const complaints = judge(answer, operation);
  if (may(operation.operationId, who)) return complaints;
  if (answer.status < 400) complaints.push(`${who} may not do this, and did`);
  // What is hardly a request, or cannot be read, is refused before anybody asks who sent it.
  const isUnread = mood === 'spoilt' || answer.text.includes('"code":"malformed-request"');
  const isTold = !isUnread && ![401, 403, 404].includes(answer.status);
  if (isTold) complaints.push(`${who} was told more than no`);
  return complaints;
}

/** What costs more to find out, and so is asked of some only: what was left behind, and sent again. */
export async function complainOfTwice(
  world: World,
  { operation, request, answer }: Exchange,
  sendAgain: () => Promise<WireAnswer>,
): Promise<string[]> {
  if (request.isAstray) return [];
  const { operationId } = operation;
  if (request.method === 'GET' && !DRAWS.includes(operationId)) {
    return (await entriesOf(world, answer)) === 0 ? [] : ['a look has changed something'];
  }
  if (!operation.needsKey || answer.status >= 300) return [];
  const again = await sendAgain();
  const isSame = isDeepStrictEqual(JSON.parse(again.text), asRepeated(operationId, answer.text));
  if (again.status !== answer.status || !isSame) {
    return [`sent again it was answered ${again.status} ${again.text.slice(0, 200)}`];
  }
  return (await entriesOf(world, again)) === 0 ? [] : ['sent again it was done again'];
}

/** A paper is drawn when it is first looked at, and that is told. */
const DRAWS = ['getQuotePaper', 'getPaperFile'];

/** What stands in the first answer only, for it is stored nowhere. */
const TOLD_ONCE: Readonly<Record<string, readonly string[]>> = {
  makeCalendarFeed: ['url'],
  makeQuoteLink: ['url', 'text'],
  inviteStaff: ['token'],
  renewSignInLink: ['token'],
};

function asRepeated(operationId: string, text: string): unknown {
  const withheld = TOLD_ONCE[operationId] ?? [];
  return { ...JSON.parse(text), ...Object.fromEntries(withheld.map((name) => [name, null])) };
}

/** How many changes the journal tells of one request. */
async function entriesOf({ service }: World, { headers }: WireAnswer): Promise<number> {
  const { rows } = await service.owner.query<{ entries: number }>(
    'SELECT count(*)::int AS entries FROM journal_entry WHERE request_id = $1',
    [headers['x-request-id']],
  );
  return rows[0]?.entries ?? 0;
}
