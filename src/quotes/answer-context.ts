import type { Actor, CustomerActor } from '../platform/access/actor.ts';
import type { ActContext } from '../platform/http/route.ts';

/** A customer who answers at a link that was made for them. */
export interface AnsweringCustomer extends CustomerActor {
  /** Who that is: what they may agree to is for whoever they are at the site when they answer. */
  holderId: string;
}

/** The act of whoever answers a quote: our staff put it on record, or the customer does it. */
export type AnswerContext = Omit<ActContext, 'actor'> & { actor: Actor | AnsweringCustomer };

/** Who vouches for an answer, as its row says: the person who recorded it, or the link. */
export function witnessOf({ actor }: Pick<AnswerContext, 'actor'>) {
  return actor.kind === 'staff' ? { recordedById: actor.id } : { linkId: actor.id };
}
