import type { z } from 'zod';
import { addCustomer } from '../customers/index.ts';
import { unknownReference } from '../platform/http/problem.ts';
import type { ActContext, Reply } from '../platform/http/route.ts';
import { addSite } from '../sites/index.ts';
import { answerOpened, openTicket } from '../tickets/index.ts';
import type { newCallSchema, takenCallSchema } from './contract.ts';
import { refuseTwins } from './refuse-twins.ts';
import { underPointer } from './under-pointer.ts';

type NewCall = z.output<typeof newCallSchema>;

/**
 * Takes a call while somebody talks: makes the caller and the site where they are new, and opens the
 * ticket, all or nothing.
 * @throws ProblemError 422 for somebody or something named that is unknown, 409 for a new person or
 *   site that is most likely known already, unless it is to be made anyway
 */
export async function takeCall(
  act: ActContext,
  call: NewCall,
): Promise<Reply<z.input<typeof takenCallSchema>>> {
  await refuseTwins(act, call);
  const customerId = await callerOf(act, call);
  const siteId = await siteOf(act, call, customerId);
  const { complaint, symptoms } = call;
  const ticket = await openTicket(act, { siteId, callerId: customerId, complaint, symptoms });
  const opened = await answerOpened(act, ticket);
  return { ...opened, body: { customerId, siteId, ticket: opened.body } };
}

async function callerOf(act: ActContext, { customer }: NewCall): Promise<string> {
  if ('new' in customer) return (await addCustomer(act, customer.new)).id;
  const known = await act.tx.customer.findUnique({ where: { id: customer.id } });
  if (known === null) throw unknownReference('/customer/id', 'There is no such customer.');
  return known.id;
}

async function siteOf(act: ActContext, { site }: NewCall, callerId: string): Promise<string> {
  if ('new' in site) {
    const { occupantId = callerId, ...address } = site.new;
    return (await underPointer('/site/new', () => addSite(act, { ...address, occupantId }))).id;
  }
  const known = await act.tx.site.findUnique({ where: { id: site.id } });
  if (known === null) throw unknownReference('/site/id', 'There is no such site.');
  return known.id;
}
